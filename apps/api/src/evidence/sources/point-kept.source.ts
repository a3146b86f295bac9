import { Injectable } from '@nestjs/common';
import { AttendancesService } from '../../attendances/attendances.service.js';
import type { Attendance } from '../../attendances/attendance.entity.js';
import type { ControlPlanItem } from '../../control-plans/control-plan-item.js';
import { ATTENDANCES, linkOf } from '../../recall/record-kinds.js';
import type { EvidenceGround } from '../evidence-ground.js';
import type { EvidenceSource } from '../evidence-source.js';
import { oncePerGround } from '../once-per-ground.js';
import { testimonies, type RecordTestimony } from '../record-testimony.js';

/** A hold, witness or review point was kept, and accepted by who attended. */
@Injectable()
export class PointKept implements EvidenceSource {
  readonly demands = 'point';
  readonly restsOn = [ATTENDANCES];
  readonly restsOnSamples = false;

  constructor(private readonly attendances: AttendancesService) {}

  async testimonies(ground: EvidenceGround, { code, point }: ControlPlanItem): Promise<RecordTestimony[]> {
    const rows = (await this.kept(ground)).filter(({ itemCode }) => itemCode === code);
    return rows.flatMap((row) => testimonies(row.span, {
      says: row.outcome === 'accepted' ? 'confirmed' : 'failed', because: wordsOf(row, point), records: [linkOf(ATTENDANCES, row)], enteredAt: [row.enteredAt], knownFrom: row.knownFrom,
    }, ground.onTimeFrom));
  }

  private readonly kept = oncePerGround(({ stringId, asKnownAt }) => this.attendances.ofString(stringId, asKnownAt));
}

function wordsOf({ outcome, attendedBy, note }: Attendance, point: ControlPlanItem['point']): string {
  const who = attendedBy.map(({ name, party }) => `${name} (${party})`).join(', ');
  return `${point ?? ''} point, ${outcome === 'accepted' ? 'accepted' : `not accepted: ${note ?? ''}`}; attended by ${who}`.slice(0, 500);
}
