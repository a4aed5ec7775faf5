import { problemRule } from '../rule.js';

export const badSetting = problemRule({
  name: 'bad-setting',
  severity: 'error',
  title: 'A setting has a value that it cannot have, or lacks one.',
  page: {
    what: 'A setting of a game, a pause or hands, or the coordinates of a spot or a ground, are not in the form that they need.',
    why: 'A usual value was taken in its place, and what depends on it may be wrong.',
    bad: 'hands { spread 9 }',
    instead: 'hands { spread 9ms }',
  },
  message: ({ setting, written, wanted }) => ({
    title:
      written === ''
        ? `${setting} is missing`
        : `${setting} cannot be ${valueOf(setting, written)}`,
    reason: `Needed is ${wanted}.`,
    wayOut: `Write ${setting} with ${wanted}.`,
  }),
});

function valueOf(setting: string, written: string): string {
  const value = written.startsWith(setting) ? written.slice(setting.length).trim() : written;
  return value === '' ? 'empty' : value;
}
