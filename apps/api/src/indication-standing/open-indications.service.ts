import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import type { IndicationEvaluation } from '../indication-evaluations/indication-evaluation.entity.js';
import { IndicationEvaluationsService } from '../indication-evaluations/indication-evaluations.service.js';
import { openOfIndication } from '../indication-evaluations/standing-evaluation.js';
import type { Indication } from '../indications/indication.entity.js';
import { IndicationsService } from '../indications/indications.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { timeLeftAnswer } from '../time-left/time-left.dto.js';
import { TimesLeft } from '../time-left/times-left.service.js';
import { linkTo } from '../trace/record-link.js';
import { shown } from './indication-shown.js';
import type { OpenIndicationAnswer, OpenIndicationsAnswer } from './indication-standing.dto.js';
import type { OpenIndicationsQuestion } from './open-indications-question.js';

/** Said with every list of indications. */
export const NO_INDICATION = 'No indication means none above the threshold of the rule, on the pipe that was looked at; it does not mean that there is no defect.';

const CAUTIONS = [
  'What nobody detected or entered is not in this list: an empty one does not say that the pipe was inspected.',
  NO_INDICATION,
  'Time left is by counter and line set-up: a record, no interlock. Nothing here stops the line.',
];

/** An indication that nothing settles, and why. */
export interface OpenIndication {
  readonly row: Indication;
  readonly because: string;
  readonly evaluations: readonly IndicationEvaluation[];
}

/** The indications of a string that nothing settles. */
@Injectable()
export class OpenIndications {
  constructor(
    private readonly desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly indications: IndicationsService,
    private readonly evaluations: IndicationEvaluationsService,
    private readonly cutOuts: CutOutsService,
    private readonly times: TimesLeft,
  ) {}

  /** A page of them with the time each has left, as known at an instant, or now. Refuses with 404 when there was no such string, with 409 when it was void. */
  async of(stringId: string, { at: asked, asKnownAt, from, limit }: OpenIndicationsQuestion): Promise<OpenIndicationsAnswer> {
    const string = await this.strings.open(stringId, asKnownAt);
    const [all, removed] = await Promise.all([this.open(stringId, asKnownAt), this.removed(stringId, asKnownAt)]);
    const open = all.filter(({ row }) => !removed.covers(row.span));
    const at = asked ?? asKnownAt ?? await this.desk.databaseNow();
    const times = await this.times.of(stringId, open.map(({ row }) => row), at, asKnownAt);
    // By footage: the lowest gets to the hang-off first.
    const items = open.map(({ row, because, evaluations }, index): OpenIndicationAnswer => {
      const left = times[index];
      if (left === undefined) throw new Error('every place has its time left');
      return { ...shown(row), because, evaluations: evaluations.length, timeLeft: timeLeftAnswer(left) };
    });
    const isPast = ({ timeLeft }: OpenIndicationAnswer): boolean => timeLeft.state === 'past-the-hang-off';
    const past = items.filter(isPast);
    const inOrder = [...items.filter((item) => !isPast(item)), ...past];
    return {
      string: linkTo('casing-string', string, string.name), at: times[0]?.at ?? at, asKnownAt, ahead: items.length - past.length, past: past.length, cutOut: all.length - open.length,
      items: inOrder.slice(from, from + limit), next: from + limit < inOrder.length ? String(from + limit) : null, cautions: CAUTIONS,
    };
  }

  /** All of them, in pipe that was cut out too, by footage. */
  async open(stringId: string, asKnownAt: string | null): Promise<OpenIndication[]> {
    const [rows, evaluations] = await Promise.all([this.indications.ofString(stringId, asKnownAt), this.evaluations.ofString(stringId, asKnownAt)]);
    return rows.flatMap((row): OpenIndication[] => {
      const own = evaluations.get(row.id) ?? [];
      const because = openOfIndication(own);
      return because === null ? [] : [{ row, because, evaluations: own }];
    });
  }

  /** Pipe of a string that was cut out. */
  async removed(stringId: string, asKnownAt: string | null): Promise<IntervalSet> {
    return IntervalSet.from((await this.cutOuts.ofString(stringId, asKnownAt)).map(({ span }) => span));
  }
}
