#!/usr/bin/env node
// Starts the command line with V8's code cache, so that a run does not compile what the last run
// compiled already. The cache is a convenience: whatever goes wrong with it, the bundle runs without.
'use strict';

const fs = require('node:fs');
const path = require('node:path');
const Module = require('node:module');

const bundle = path.join(__dirname, '..', 'dist', 'tiptoe.cjs');
const LIMIT = 64 * 1024 * 1024;

/** Places for the cache file: beside the bundle, otherwise among the user's own caches. */
function cacheFiles() {
  const name = `tiptoe.${process.version}-${process.arch}.cache`;
  const { XDG_CACHE_HOME, LOCALAPPDATA, HOME } = process.env;
  const user = XDG_CACHE_HOME || LOCALAPPDATA || (HOME && path.join(HOME, '.cache'));
  const places = [path.join(path.dirname(bundle), name)];
  if (user && path.isAbsolute(user)) {
    // Several installations may share the user's folder; each has its own file in it.
    const owner = encodeURIComponent(path.dirname(bundle)).slice(-150);
    places.push(path.join(user, 'tiptoe', `${owner}.${name}`));
  }
  return places;
}

/** A cache file is one line of JSON (what it was made from, which commands warmed it), then V8's data. */
function readCache(file, key) {
  try {
    const bytes = fs.readFileSync(file);
    const end = bytes.indexOf(10);
    const head = JSON.parse(bytes.toString('utf8', 0, end));
    const data = bytes.subarray(end + 1);
    if (head.key === key && head.length === data.length && Array.isArray(head.commands)) {
      return { commands: head.commands, data };
    }
  } catch {
    // None there, or not one of ours: as good as none.
  }
  return undefined;
}

/** Written beside its place and renamed, so that nobody ever reads half a file. */
function writeCache(files, key, commands, data) {
  const head = JSON.stringify({ key, length: data.length, commands });
  for (const file of files) {
    const draft = `${file}.${process.pid}-${Date.now().toString(36)}.tmp`;
    try {
      fs.mkdirSync(path.dirname(file), { recursive: true, mode: 0o700 });
      fs.writeFileSync(draft, Buffer.concat([Buffer.from(head + '\n'), data]), { flag: 'wx' });
      fs.renameSync(draft, file);
      return;
    } catch {
      discard(draft); // Read-only, full or gone: try the next place.
    }
  }
}

function discard(file) {
  try {
    fs.rmSync(file, { force: true });
  } catch {
    // It stays; nothing reads it.
  }
}

/** Compiles the bundle from the cache. Returns a function that runs it, or undefined. */
function prepare() {
  const vm = require('node:vm');
  // A short run is over before optimised code pays for its making, which takes a core from others;
  // a run of a second has its optimised code a little later. Set before the bundle is compiled:
  // the engine takes a cache only under the flags that it was made with.
  require('node:v8').setFlagsFromString('--interrupt-budget=1000000');
  const { size, mtimeMs } = fs.statSync(bundle);
  const key = [size, mtimeMs, process.version, process.versions.v8].join(' ');
  const files = cacheFiles();
  let cache;
  for (const file of files) cache ??= readCache(file, key);
  const source = Module.wrap(fs.readFileSync(bundle, 'utf8'));
  const script = new vm.Script(source, { filename: bundle, cachedData: cache?.data });
  const known = cache && !script.cachedDataRejected ? cache.commands : [];

  // A command that the cache has not seen adds its own functions to it, once it has gone well.
  const command = /^[a-z]{1,16}$/.test(process.argv[2] ?? '') ? process.argv[2] : '-';
  if (!known.includes(command) && known.length < 32) {
    let fell = false;
    process.once('uncaughtExceptionMonitor', () => {
      fell = true;
    });
    process.once('exit', (code) => {
      if (fell || (code !== 0 && code !== 1)) return;
      try {
        const data = script.createCachedData();
        if (data.length < LIMIT) writeCache(files, key, [...known, command], data);
      } catch {
        // No cache this time.
      }
    });
  }

  const start = script.runInThisContext();
  const main = new Module(bundle, module);
  main.filename = bundle;
  main.paths = module.paths;
  return () =>
    start.call(
      main.exports,
      main.exports,
      Module.createRequire(bundle),
      main,
      bundle,
      path.dirname(bundle),
    );
}

let run;
try {
  if (process.env.NODE_DISABLE_COMPILE_CACHE) {
    // The user wants none.
  } else if (Module.enableCompileCache) {
    Module.enableCompileCache(); // Node 22 keeps such a cache itself.
  } else {
    run = prepare();
  }
} catch {
  run = undefined;
}

if (run) {
  run();
} else if (fs.existsSync(bundle)) {
  require(bundle);
} else {
  process.stderr.write('tiptoe: not built yet. Run "npm run build" in the workspace first.\n');
  process.exitCode = 2;
}
