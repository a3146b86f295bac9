import type { SignedIn } from '../setup/api.js';
import { entered, permitted } from '../setup/string-builder.js';
import { at } from './line.factory.js';

let drawn = 0;

/** A coil that may become pipe. */
async function coil(by: SignedIn): Promise<string> {
  const tag = `SF-${String((drawn += 1)).padStart(3, '0')}`;
  const heatId = await entered(by, 'heats', { observedAt: at('05:00'), number: `H-${tag}`, grade: 'S420MC' });
  const id = await entered(by, 'coils', { observedAt: at('05:00'), number: tag, heatId, widthMm: '400.0', thicknessMm: '5.00', massKg: '7850', lengthMm: 500_000 });
  await permitted(by, id);
  return id;
}

/** Splices of 100 mm at footages in rising order, made at 06:05; coils of their own between them. Gives their ids. */
export async function splicesFrom(by: SignedIn, stringId: string, ...fromMm: readonly number[]): Promise<string[]> {
  let leavingCoilId = await coil(by);
  const found: string[] = [];
  for (const [index, from] of fromMm.entries()) {
    const enteringCoilId = await coil(by);
    found.push(await entered(by, 'splices', {
      observedAt: at('06:05'), stringId, number: `S-${index + 1}`, leavingCoilId, enteringCoilId, from: { footageMm: from }, to: { footageMm: from + 100 },
      angleDeg: '90', hand: 'square', confirmed: true, verdict: 'accepted',
    }));
    leavingCoilId = enteringCoilId;
  }
  return found;
}
