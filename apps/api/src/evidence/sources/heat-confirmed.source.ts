import { Injectable } from '@nestjs/common';
import { COIL_DECISIONS, linkOf } from '../../recall/record-kinds.js';
import type { CoilDecision } from '../../standing/coil-decision.entity.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { GroundRecords } from '../ground-records.service.js';
import { testimonies, type RecordTestimony, type Word } from '../record-testimony.js';

/** The heat of the coil that pipe was made of is confirmed by its papers, as evaluated for the decision that stands. */
@Injectable()
export class HeatConfirmed implements EvidenceSource {
  readonly demands = 'heat-confirmed';
  readonly restsOn = [COIL_DECISIONS];
  readonly restsOnSamples = false;

  constructor(private readonly records: GroundRecords) {}

  async testimonies(ground: EvidenceGround): Promise<RecordTestimony[]> {
    const { segments, onTimeFrom } = ground;
    const { ids, coils, standings } = await this.records.coilsUsed(ground);
    const words = new Map(ids.map((id) => [id, wordOf(coils.get(id)?.number ?? id, standings.get(id)?.decision ?? null)]));
    return segments.flatMap(({ coilId, span }) => testimonies(span, words.get(coilId) ?? NOT_EVALUATED, onTimeFrom));
  }
}

const LONGEST = 500;

const NOT_EVALUATED: Word = { says: 'awaited', because: 'the coil was not decided on, so its papers were not evaluated', records: [], enteredAt: [] };

/** Checks of an evaluation that tell whether the papers and the coil are of one heat. */
const ABOUT_HEAT: ReadonlySet<string> = new Set(['names the coil', 'heat analysis', 'second keying', 'tag', 'used twice', 'dates']);

/** What of a frozen evaluation tells of the heat. */
interface FrozenEvaluation {
  readonly heat: { readonly number: string };
  readonly lines: readonly { readonly name: string; readonly verdict: string }[];
  readonly crossChecks: readonly { readonly severity: string; readonly check: string; readonly detail: string }[];
}

/** What a signed decision's frozen evaluation says of the coil's heat. */
export function wordOf(coil: string, decision: CoilDecision | null): Word {
  if (decision === null) return NOT_EVALUATED;
  const { heat, lines, crossChecks } = JSON.parse(decision.evaluation) as FrozenEvaluation;
  const doubts = crossChecks.filter(({ severity, check }) => severity === 'warning' && ABOUT_HEAT.has(check));
  const named = lines.some(({ name, verdict }) => name === 'inspection document' && (verdict === 'conforms' || verdict === 'does-not-conform'));
  const said = { records: [linkOf(COIL_DECISIONS, decision)], enteredAt: [decision.enteredAt] };
  const of = `coil ${coil}, heat ${heat.number}`;
  if (doubts.length > 0) return { ...said, says: 'suspect', because: `${of}: ${doubts.map(({ detail }) => detail).join('; ')}`.slice(0, LONGEST) };
  if (!named) return { ...said, says: 'awaited', because: `${of}: no certificate on record names it` };
  return { ...said, says: 'confirmed', because: `${of}: its papers name it, as evaluated for the decision` };
}
