import { mapDot } from '../../publish/map/dot.js';
import { spotMap } from '../../publish/map/graph.js';
import { mapSvg } from '../../publish/map/svg.js';
import { type Call, type Command, OUTPUT_OPTIONS, SIZE_OPTION } from '../command.js';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { openNote } from '../note.js';
import { print } from '../output.js';
import { choicesOf, ROUTE_OPTIONS, routesOf } from '../routes.js';

export const command: Command = {
  name: 'map',
  summary: 'Draw the spots and the moves of the log',
  details: [
    'Each line is what the log has between two spots. With a route its course is drawn thick and numbered; where repeating an item goes round, the line is doubled.',
  ],
  arguments: [{ name: '<file>', summary: 'the note', completes: 'notes' }],
  options: [
    ...ROUTE_OPTIONS,
    {
      flags: '--format <form>',
      summary: 'a drawing, or a graph in the DOT language',
      choices: ['svg', 'dot'],
      preset: 'svg',
    },
    ...OUTPUT_OPTIONS,
    SIZE_OPTION,
  ],
  examples: [
    {
      line: 'tiptoe map barrier.tiptoe --route barrier --output barrier.svg',
      does: 'draws the log with the course of a route',
    },
    { line: 'tiptoe map log.tiptoe --format dot', does: 'prints the log as a graph' },
  ],
  run,
};

async function run({ args, options }: Call): Promise<ExitCode> {
  const [path = ''] = args;
  const { scope } = openNote(path, options);
  const named = options.text('route');
  // Without a name the first route's course is drawn; the log of a file without routes is plain.
  const [route] = routesOf(scope, named);
  const chosen =
    route === undefined
      ? undefined
      : { ...route, choices: choicesOf(options.list('choose'), [route], scope) };
  const map = spotMap(scope, chosen);
  if (map.spots.length === 0) {
    throw new Trouble(path, 'there is no log to draw', 'Add seen rows, such as "@reed : U -> @rush x22".'); // prettier-ignore
  }
  const most = 2000;
  if (map.spots.length > most) {
    throw new Trouble(
      path,
      `the log has ${map.spots.length} spots, too many to draw (limit ${most})`,
    );
  }
  await print(options.text('format') === 'dot' ? mapDot(map) : mapSvg(map), options.output);
  return EXIT.fine;
}
