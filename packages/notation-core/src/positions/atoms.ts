import { type Front, Places, type Trail, UNKNOWN } from './places.js';

/** One place and how many tokens ahead it is: what one time through a body is a map of. */
export interface Atom {
  readonly place: number;
  readonly ahead: number;
}

export const LOST: Atom = { place: UNKNOWN, ahead: 0 };
/** No row reaches so far ahead. */
const AHEAD = 2048;

export function keyOf(atom: Atom): number {
  return (atom.place + 1) * AHEAD + atom.ahead;
}

/** The trail of a character that is somewhere because the route says so. */
export function start(place: number): Trail {
  return { before: undefined, place, sightings: Infinity, via: '' };
}

/** A trail over a repeat, whose steps are not told one by one. */
export function jump(trail: Trail | undefined, place: number): Trail {
  return { before: trail, place, sightings: Infinity, via: '…' };
}

/** Puts a place into a front. */
export function reach(front: Front, at: number, place: number, trail: Trail | undefined): void {
  let places = front[at];
  if (places === undefined) {
    places = new Places();
    while (front.length < at) front.push(undefined);
    front[at] = places;
  }
  places.add(place, trail);
}

export function atomsOf(front: Front): Atom[] {
  const atoms: Atom[] = [];
  front.forEach((places, ahead) => {
    places?.list.forEach((place) => atoms.push({ place, ahead }));
  });
  return atoms;
}

export function toFront(
  atoms: ReadonlyMap<number, Atom>,
  trails: ReadonlyMap<number, Trail | undefined>,
): Front {
  const front: Front = [];
  for (const [key, atom] of atoms) reach(front, atom.ahead, atom.place, trails.get(key));
  return front;
}

/** A front of one atom. */
export function frontOf({ place, ahead }: Atom, trail: Trail | undefined): Front {
  const front: Front = [];
  reach(front, ahead, place, trail);
  return front;
}

/** Those at which the character is at rest; within a row over several times it is nowhere yet. */
export function atRest(cycle: readonly Atom[]): readonly Atom[] {
  const still = cycle.filter(({ ahead }) => ahead === 0);
  return still.length > 0 ? still : cycle;
}
