import { version } from './version.js';

process.stdout.write(`tiptoe ${version}\n`);
