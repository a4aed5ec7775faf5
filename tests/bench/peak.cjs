// Loaded in front of a program: says at its end, on standard error, the most memory that it held.
process.on('exit', () => {
  const { maxRSS } = process.resourceUsage();
  require('node:fs').writeSync(2, `peak ${maxRSS} kB\n`);
});
