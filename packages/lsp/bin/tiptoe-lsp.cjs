#!/usr/bin/env node
// Starts the language server with V8's code cache where Node keeps one itself.
'use strict';

const fs = require('node:fs');
const path = require('node:path');
const Module = require('node:module');

const bundle = path.join(__dirname, '..', 'dist', 'tiptoe-lsp.cjs');

try {
  if (!process.env.NODE_DISABLE_COMPILE_CACHE) Module.enableCompileCache?.();
} catch {
  // A convenience: the server runs without.
}

if (fs.existsSync(bundle)) {
  require(bundle);
} else {
  process.stderr.write('tiptoe-lsp: not built yet. Run "npm run build" in the workspace first.\n');
  process.exitCode = 2;
}
