import { collector, type ModelProblem } from '@core/model/problems.js';
import { programOf } from '@core/model/program.js';
import { Resolver } from '@core/model/resolve.js';
import { scopeOf } from '@core/model/scope.js';
import type { Sequence } from '@core/model/steps.js';
import type { Game } from '@core/model/game.js';
import { buildTimeline, type TimelineOptions } from '@core/timeline/build.js';
import type { Run, Timeline } from '@core/timeline/types.js';

export interface Settings {
  readonly clock?: string;
  readonly settle?: number;
  readonly pace?: string;
  readonly open?: number;
  readonly dwell?: number;
  readonly resume?: number;
  /** Phrases, a line each. */
  readonly lets?: string;
}

/** The sequence of a route in an invented game; every input but the pause's P has its letter. */
export function sequenceOf(
  body: string,
  settings: Settings = {},
): { sequence: Sequence; game: Game; problems: ModelProblem[] } {
  const { clock = '30', settle, pace, open = 1, dwell = 2, resume = 1, lets = '' } = settings;
  const text =
    `game "Salt Lantern" { clock ${clock} ` +
    (settle === undefined ? '' : `settle ${settle} `) +
    (pace === undefined ? '' : `pace ${pace} `) +
    'inputs { D = y +1 U = y -1 L = x -1 R = x +1 J = jump S = strike } ' +
    `pause P { open ${open} dwell ${dwell} resume ${resume} } }\n` +
    `${lets}\nroute lamp { ${body} }`;
  return firstRoute(text);
}

function firstRoute(text: string): { sequence: Sequence; game: Game; problems: ModelProblem[] } {
  const program = programOf(text);
  const [file] = program.files.values();
  if (file === undefined) throw new Error('no file');
  const scope = scopeOf(program, file);
  const [route] = scope.routes.values();
  if (route === undefined) throw new Error(`no route in ${text}`);
  const problems: ModelProblem[] = [];
  const sequence = new Resolver(scope).resolve(
    route.declaration.body,
    route.unit,
    collector(problems),
  );
  return { sequence, game: scope.game, problems };
}

export function timelineOf(
  body: string,
  settings: Settings = {},
  options: TimelineOptions = {},
): Timeline {
  return built(sequenceOf(body, settings), options);
}

/** The timeline of the first route of a note. */
export function routeTimeline(text: string): Timeline {
  return built(firstRoute(text), {});
}

function built(
  { sequence, game }: { sequence: Sequence; game: Game },
  options: TimelineOptions,
): Timeline {
  const timeline = buildTimeline(sequence, game, options);
  if ('tooLong' in timeline) throw new Error('the timeline is too long');
  return timeline;
}

/** What a tick holds: its letters or `.`, P for the pause input, `'` where no frame runs. */
export function tickShown(
  timeline: Timeline,
  { held, pause, runs }: Pick<Run, 'held' | 'pause' | 'runs'>,
): string {
  const letters = timeline.game.inputs
    .filter(({ index }) => Math.floor(held / 2 ** index) % 2 === 1)
    .map(({ letter }) => letter)
    .join('');
  const all = `${letters}${pause ? 'P' : ''}`;
  return `${all === '' ? '.' : all}${runs ? '' : "'"}`;
}

/** The whole timeline, a word a tick. */
export function shown(timeline: Timeline): string {
  const words: string[] = [];
  for (const run of timeline.runs()) {
    for (let i = 0; i < run.ticks; i++) words.push(tickShown(timeline, run));
  }
  return words.join(' ');
}
