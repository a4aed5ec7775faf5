import type { Point } from '../items-at.js';
import type { SpotsHere } from '../spots-at.js';
import type { Offer } from './types.js';

/** Spots: those that the log gives for the place, then declared ones, then those of the log. */
export function offerSpots({ scope, unit }: Point, here: SpotsHere, offer: Offer, at = '@'): void {
  const seen = new Set<string>();
  const put = (spot: string, rank: number, detail: string): void => {
    if (seen.has(spot) || spot.startsWith('(')) return;
    seen.add(spot);
    offer({ label: `${at}${spot}`, kind: 'spot', rank, detail, name: spot });
  };
  here.spots.forEach((spot, i) => {
    put(spot, i / 1000, 'here by the log');
  });
  const { declaration } = unit;
  if (declaration.kind === 'route' && declaration.to !== undefined) {
    put(declaration.to.name, 1, 'the goal');
  }
  for (const [name, { declaration: spot }] of scope.spots) put(name, 2, spot.cue?.value ?? '');
  for (const name of scope.logged) put(name, 3, 'in the log');
}
