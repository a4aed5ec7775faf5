import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { render, target } from '../../packages/notation-core/scripts/generate-commands.mjs';
import { root } from '../house/workspace.js';
import { Folder, expectNoTrace } from './folder.js';

const names = readdirSync(`${root}packages/notation-core/src/cli/commands`).map((file) =>
  file.replace(/\.ts$/, ''),
);
const folder = () => new Folder();

test('the list of commands is what `npm run generate` makes of the files', async () => {
  expect(readFileSync(target, 'utf8')).toBe(await render());
});

describe('help', () => {
  test('names every command, on standard output where it was asked for', () => {
    for (const args of [['--help'], ['-h'], ['help']]) {
      const { code, out, err } = folder().run(args);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      for (const name of names) expect(out).toMatch(new RegExp(`^ {2}${name} {2,}\\S`, 'm'));
    }
  });

  test('comes on standard error, with exit code 2, where no command was given', () => {
    const { code, out, err } = folder().run([]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain('Commands:');
  });

  test.each(names)('of %s is the same in all three ways, with examples of itself', (name) => {
    const here = folder();
    const { code, out } = here.run([name, '--help']);
    expect(code).toBe(0);
    expect(here.run(['help', name]).out).toBe(out);
    expect(here.run([name, '-h']).out).toBe(out);
    const [, examples = ''] = out.split('Examples:\n');
    expect(examples).toMatch(new RegExp(`^ {2}\\S.*tiptoe ${name}|^ {2}tiptoe ${name}`, 'm'));
    const widest = Math.max(...out.split('\n').map((line) => line.length));
    expect(widest).toBeLessThanOrEqual(100);
  });
});

describe('wrong usage is one line with a way out, and exit code 2', () => {
  test.each([
    [['fmtt'], 'fmtt: there is no such command. Did you mean fmt?'],
    [['xyzzy'], 'xyzzy: there is no such command. See tiptoe --help.'],
    [['--verison'], '--verison: there is no such option. See tiptoe --help.'],
    [['help', 'fmtt'], 'fmtt: there is no such command. Did you mean fmt?'],
    [['fmt', '--dif'], '--dif: tiptoe fmt has no such option. Did you mean --diff?'],
    [['fmt', '-z'], '-z: tiptoe fmt has no such option. See tiptoe fmt --help.'],
    [['fmt', '--max-size'], '--max-size: a value must follow. See tiptoe fmt --help.'],
    [
      ['fmt', '--max-size', '9000G'],
      '--max-size: "9000G" is out of reach: from 1 byte to 511MB. Write --max-size 64MB, for example.',
    ],
    [
      ['fmt', '--max-size=big'],
      '--max-size: "big" is no size. Write --max-size 64MB, for example.',
    ],
    [['fmt', '--stdin', 'a.tiptoe'], '--stdin: no file can be named beside it'],
    [['completion'], 'tiptoe completion: it needs a shell. See tiptoe completion --help.'],
    [['completion', 'bsh'], 'bsh: no completion for this shell. There is one for bash, zsh, fish.'],
    [
      ['completion', 'bash', 'zsh'],
      'tiptoe completion bash zsh: it takes one argument. See tiptoe completion --help.',
    ],
    [['fm\nt\u001b[31m'], 'fm t\ufffd[31m: there is no such command. See tiptoe --help.'],
  ])('%j', (args, line) => {
    const { code, out, err } = folder().run(args);
    expect({ code, out, err }).toEqual({ code: 2, out: '', err: `tiptoe: ${line}\n` });
    expectNoTrace(err);
  });
});

describe('colour', () => {
  const ESCAPE = '\u001b[';
  test.each([
    [{}, false],
    [{ FORCE_COLOR: '1' }, true],
    [{ FORCE_COLOR: '0' }, false],
    [{ FORCE_COLOR: '' }, false],
    [{ NO_COLOR: '1' }, false],
    [{ NO_COLOR: '1', FORCE_COLOR: '1' }, true],
  ])('through a pipe with %j: %j', (env, coloured) => {
    expect(folder().run(['--help'], { env }).out.includes(ESCAPE)).toBe(coloured);
  });

  // `script` gives the command a terminal.
  test.each([
    ['', true],
    ['NO_COLOR=1', false],
    ['NO_COLOR=', true],
    ['TERM=dumb', false],
  ])('on a terminal with "%s": %j', (env, coloured) => {
    const { stdout, status } = folder().shell(
      `export -f tiptoe; TERM=xterm ${env} script -qec 'bash -c "tiptoe --help"' /dev/null < /dev/null`,
    );
    expect(status).toBe(0);
    expect(stdout).toContain('Commands:');
    expect(stdout.includes(ESCAPE)).toBe(coloured);
  });
});

describe('the other end of a pipe', () => {
  test('may go away without a word', () => {
    const { status, stdout, stderr } = folder().shell(
      'tiptoe completion bash | head -n 1; echo ${PIPESTATUS[0]}',
    );
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(/^# Completion of tiptoe for bash.*\n0\n$/);
  });

  test('may be closed from the start', () => {
    const { status, stderr } = folder().shell('tiptoe --help >&-');
    expect(stderr).toMatch(/^(tiptoe: standard output: .*\n)?$/);
    expect([0, 2]).toContain(status);
  });
});

describe('completion in bash', () => {
  const complete = (...words: string[]) => {
    const here = new Folder({ 'a.tiptoe': '', 'b.txt': '', 'my notes/c.tiptoe': '' });
    const list = words.map((word) => `'${word}'`).join(' ');
    const { stdout, stderr } = here.shell(`
      source <(tiptoe completion bash)
      COMP_WORDS=(tiptoe ${list}); COMP_CWORD=${words.length}
      _tiptoe; printf '%s\\n' "\${COMPREPLY[@]}"`);
    expect(stderr).toBe('');
    return stdout.split('\n').filter((line) => line !== '');
  };

  test('offers the commands, and the options of one', () => {
    expect(complete('')).toEqual([...names.sort(), 'help', '--help', '--version']);
    expect(complete('f')).toEqual(names.filter((name) => name.startsWith('f')));
    expect(complete('fmt', '--d')).toEqual(['--diff']);
    expect(complete('completion', 'z')).toEqual(['zsh']);
    expect(complete('help', 'comp')).toEqual(['completion']);
    expect(complete('fmt', '--max-size', '')).toEqual([]);
  });

  test('offers notes and folders, with spaces in their names', () => {
    expect(complete('fmt', '')).toEqual(['my notes', 'a.tiptoe']);
  });
});

test.each(['zsh', 'fish'])('completion for %s names every command', (shell) => {
  const { code, out } = folder().run(['completion', shell]);
  expect(code).toBe(0);
  for (const name of names) expect(out).toMatch(new RegExp(`\\b${name}\\b`));
});
