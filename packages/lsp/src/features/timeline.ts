import {
  itemAtTick,
  routeTimeline,
  type Segment,
  ticksAt,
} from '@tiptoe/notation-core/ide/timeline';
import { ErrorCodes, ResponseError } from 'vscode-languageserver-protocol';
import {
  type ItemAtParams,
  ItemAtRequest,
  type RouteParams,
  type SegmentOfTicks,
  TickAtRequest,
  TIMELINE_VERSION,
  TimelineRequest,
} from '../requests.js';
import type { View } from '../view.js';
import type { Feature } from './feature.js';

/** Segments of one answer, at most: what is beyond is asked for by its ticks. */
const MOST = 10_000;

/** The nominal timeline of a route, for previews (`PROTOCOL.md`). */
export const timeline: Feature = {
  capabilities: () => ({ experimental: { tiptoe: { timeline: TIMELINE_VERSION } } }),
  register(session) {
    session.about(TimelineRequest, (view, params) => {
      const { from = 0, to, most = 2000 } = params;
      checkTick(from, 'from');
      if (to !== undefined) checkTick(to, 'to');
      const choices = choicesOf(params);
      const { game } = view.analysis.scope(view.file);
      const found = routeTimeline(view.analysis, view.path, offsetOf(view, params), {
        from,
        ...(to === undefined ? {} : { to }),
        most: Math.min(Math.max(1, most), MOST),
        ...(choices === undefined ? {} : { choices }),
      });
      const version = TIMELINE_VERSION;
      if ('none' in found) return { version, none: found.none };
      const { segments, ...facts } = found;
      const inputs = game.inputs.map(({ letter }) => letter);
      return {
        version,
        document: session.store.open.get(view.path)?.version ?? null,
        ...facts,
        inputs,
        pause: game.pause?.letter ?? null,
        segments: segments.map((segment) => segmentOf(view, segment)),
      };
    });

    session.about(ItemAtRequest, (view, params: ItemAtParams) => {
      checkTick(params.tick, 'tick');
      const offset = offsetOf(view, params);
      const found = itemAtTick(view.analysis, view.path, offset, params.tick, choicesOf(params));
      if (found === undefined) return null;
      const { tick, frame, held, part, item, inRoute } = found;
      return {
        version: TIMELINE_VERSION,
        tick,
        frame: frame ?? null,
        held: [...held],
        part,
        item: (item && view.location(item)) ?? null,
        inRoute: (inRoute && view.location(inRoute)) ?? null,
      };
    });

    session.about(TickAtRequest, (view, params) => {
      const { position, most = 100 } = params;
      const choices = choicesOf(params);
      const found = ticksAt(view.analysis, view.path, view.offset(position), {
        most: Math.min(Math.max(1, most), MOST),
        ...(choices === undefined ? {} : { choices }),
      });
      if (found === undefined) return null;
      const { ranges, more } = found;
      return { version: TIMELINE_VERSION, ranges: [...ranges], more };
    });
  },
};

function segmentOf(view: View, { tick, ticks, frame, held, part, item }: Segment): SegmentOfTicks {
  const location = item && view.location(item);
  return { tick, ticks, frame: frame ?? null, held: [...held], part, item: location ?? null };
}

/** Where the route is that is meant: by its name, by a place in it, or the first of the note. */
function offsetOf(view: View, { route, position }: RouteParams): number {
  if (position !== undefined && route === undefined) return view.offset(position);
  for (const { unit, start } of view.file.tree.units) {
    const { declaration } = unit;
    if (declaration.kind !== 'route') continue;
    if (route === undefined || declaration.name?.name === route) return start + declaration.start;
  }
  throw new ResponseError(
    ErrorCodes.InvalidParams,
    route === undefined ? 'The note declares no route.' : `The note declares no route ${route}.`,
  );
}

function choicesOf({ choices }: RouteParams): ReadonlyMap<string, string> | undefined {
  return choices === undefined ? undefined : new Map(Object.entries(choices));
}

function checkTick(tick: number, name: string): void {
  if (Number.isSafeInteger(tick) && tick >= 0) return;
  throw new ResponseError(ErrorCodes.InvalidParams, `${name} is no tick: they are whole numbers from 0 on.`); // prettier-ignore
}
