// Makes what is derived from the rules' own files:
//   src/rules/table.generated.ts   every rule, by name
//   schema/tiptoe.schema.json      the JSON Schema of tiptoe.json
// `npm run generate` writes them; a test fails when one is stale.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { format, resolveConfig } from 'prettier';

const home = fileURLToPath(new URL('..', import.meta.url));
const rules = join(home, 'src', 'rules');
const MADE = /^export const (\w+) = (?:problemRule|rule)\(\{\s*name: '([a-z-]+)'/m;

/** The text of the table, made by reading the files of the rules and running none of them. */
export async function table() {
  const found = [];
  for (const path of filesIn(rules)) {
    const made = MADE.exec(readFileSync(path, 'utf8'));
    if (made === null) continue;
    const [, constant, name] = made;
    const from = './' + relative(rules, path).split(sep).join('/').replace(/\.ts$/, '.js');
    if (!from.endsWith(`/${name}.js`)) throw new Error(`${from} holds the rule ${name}`);
    found.push({ constant, name, from });
  }
  found.sort((a, b) => (a.name < b.name ? -1 : 1));
  const lines = [
    '// Made by scripts/generate.mjs from the files of the rules. Run `npm run generate`.',
    ...found.map(({ constant, from }) => `import { ${constant} } from '${from}';`),
    '',
    '/** Every rule by its name. */',
    'export const TABLE = {',
    ...found.map(({ constant, name }) => `  '${name}': ${constant},`),
    '};',
    '',
  ];
  return pretty('src/rules/table.generated.ts', lines.join('\n'));
}

/** The text of the schema, made by the core's own code. */
export async function schema() {
  const { outputFiles } = await build({
    absWorkingDir: home,
    entryPoints: ['src/rules/schema.ts'],
    bundle: true,
    format: 'esm',
    write: false,
    logLevel: 'silent',
  });
  const code = Buffer.from(outputFiles[0].contents).toString('base64');
  const { settingsSchema } = await import(`data:text/javascript;base64,${code}`);
  return pretty('schema/tiptoe.schema.json', JSON.stringify(settingsSchema()));
}

/** The files that are made, by their path in the package, each with what makes its text. */
export const MADE_FILES = {
  'src/rules/table.generated.ts': table,
  'schema/tiptoe.schema.json': schema,
};

function filesIn(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesIn(path);
    return entry.name.endsWith('.ts') ? [path] : [];
  });
}

async function pretty(path, text) {
  const filepath = join(home, path);
  return format(text, { ...(await resolveConfig(filepath)), filepath });
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  for (const [path, make] of Object.entries(MADE_FILES)) {
    const target = join(home, path);
    mkdirSync(dirname(target), { recursive: true });
    // One after the other: the schema is made from the table.
    writeFileSync(target, await make());
  }
}
