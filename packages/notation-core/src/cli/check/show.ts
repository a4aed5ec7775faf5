import { type OutputOptions, openOutput } from '../output.js';
import { painter, plain, screenWidth } from '../screen.js';
import type { Checked } from '../show/shown.js';
import type { Format } from './outcome.js';

/** Writes what was found in the form that was asked for; only that form's code is loaded. */
export async function show(checked: Checked, format: Format, to: OutputOptions): Promise<void> {
  const output = openOutput(to);
  try {
    if (format === 'text') {
      const { writeText } = await import('../show/text.js');
      const style =
        to.file === undefined
          ? { paint: painter(to.stream ?? 1), width: screenWidth() }
          : { paint: plain, width: 100 };
      await writeText(checked, output, style);
    } else await output.write(await wholeText(checked, format));
    await output.end();
  } catch (error) {
    output.abandon();
    throw error;
  }
}

async function wholeText(checked: Checked, format: Exclude<Format, 'text'>): Promise<string> {
  switch (format) {
    case 'json': {
      const { jsonText } = await import('../show/json.js');
      return jsonText(checked);
    }
    case 'sarif': {
      const { sarifText } = await import('../show/sarif.js');
      const { RULES } = await import('../../rules/registry.js');
      return sarifText(checked, RULES);
    }
    case 'github': {
      const { githubText } = await import('../show/github.js');
      return githubText(checked);
    }
  }
}
