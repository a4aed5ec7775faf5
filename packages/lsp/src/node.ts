import { main } from './node/main.js';

main(process.argv.slice(2));
