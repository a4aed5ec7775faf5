import {
  type Location,
  type Position,
  ProtocolRequestType,
  type TextDocumentIdentifier,
} from 'vscode-languageserver-protocol';

/**
 * Requests beyond the protocol; `PROTOCOL.md` describes them. The version is in every answer, and
 * grows when a client has to know: a new property of an answer is none of these times.
 */
export const TIMELINE_VERSION = 1;

/** Which route is meant. */
export interface RouteParams {
  readonly textDocument: TextDocumentIdentifier;
  /** Its name; otherwise `position` is in it; otherwise it is the first of the note. */
  readonly route?: string;
  readonly position?: Position;
  /** Ways by the name of their choice; the first way where a choice is left out. */
  readonly choices?: Readonly<Record<string, string>>;
}

/** Ticks, `from` up to and without `to`. */
export interface TimelineParams extends RouteParams {
  readonly from?: number;
  readonly to?: number;
  /** The most segments; 2000 where left out, 10000 at the most. */
  readonly most?: number;
}

export interface SegmentOfTicks {
  readonly tick: number;
  readonly ticks: number;
  /** The frame of the first tick; null while the game is paused. */
  readonly frame: number | null;
  readonly held: string[];
  readonly part: string;
  readonly item: Location | null;
}

export type TimelineResult =
  | { readonly version: number; readonly none: 'no-route' | 'too-long' }
  | {
      readonly version: number;
      /** The version of the document that it is of; null where it is not open. */
      readonly document: number | null;
      readonly route: string;
      readonly clock: string;
      readonly ticks: number;
      readonly frames: number;
      readonly inputs: string[];
      readonly pause: string | null;
      readonly segments: SegmentOfTicks[];
      readonly until: number;
    };

export interface ItemAtParams extends RouteParams {
  readonly tick: number;
}

export interface ItemAtResult {
  readonly version: number;
  readonly tick: number;
  readonly frame: number | null;
  readonly held: string[];
  readonly part: string;
  readonly item: Location | null;
  readonly inRoute: Location | null;
}

export interface TickAtParams extends RouteParams {
  readonly position: Position;
  /** The most ranges; 100 where left out. */
  readonly most?: number;
}

export interface TickAtResult {
  readonly version: number;
  readonly ranges: { readonly from: number; readonly to: number }[];
  readonly more: boolean;
}

export const TimelineRequest = request<TimelineParams, TimelineResult>('tiptoe/timeline');
export const ItemAtRequest = request<ItemAtParams, ItemAtResult>('tiptoe/itemAt');
export const TickAtRequest = request<TickAtParams, TickAtResult>('tiptoe/tickAt');

function request<P, R>(method: string) {
  return new ProtocolRequestType<P, R | null, never, void, void>(method);
}
