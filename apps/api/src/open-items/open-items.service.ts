import { Injectable } from '@nestjs/common';
import { IntervalSet } from '#libs/intervals';
import type { RecordVersion } from '#libs/persistence';
import { HandoverAcceptancesService } from '../handover-acceptances/handover-acceptances.service.js';
import { HandoversService } from '../handovers/handovers.service.js';
import { InspectionsService } from '../inspections/inspections.service.js';
import { CutOutsService } from '../line/cut-outs.service.js';
import { labelOf } from '../nonconformances/nonconformance-label.js';
import type { Nonconformance } from '../nonconformances/nonconformance.entity.js';
import { NonconformancesService } from '../nonconformances/nonconformances.service.js';
import { Reinspections } from '../reinspections/reinspections.service.js';
import { RepairHistories } from '../reinspections/repair-histories.service.js';
import { RejoinsService } from '../rejoins/rejoins.service.js';
import { RecordDesk } from '../records/record-desk.js';
import { SeamEventsService } from '../seam-events/seam-events.service.js';
import { stopsWithEnds } from '../seam-stops/stop-ends.js';
import { SplicesService } from '../splices/splices.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { AboutRecords, keyOf, type AboutRecord } from '../string-records/about-records.service.js';
import { jointOf } from '../reinspections/looks.js';
import { intervalsOf } from '../reinspections/reinspection-answer.js';
import { linkTo } from '../trace/record-link.js';
import type { IntervalAnswer, RecordLink } from '../trace/trace.dto.js';
import type { OpenItemAnswer, OpenItemsAnswer } from './open-items.dto.js';
import { byAge, isCutOut, openOfHandover, openOfInspection, openOfRejoin, openOfSplice } from './open-items.rules.js';

const CAUTIONS = [
  'What nobody entered is not in this list: an empty list does not say that all is well.',
  'A record is open until it is amended, withdrawn or its pipe cut out. That a later look passed, or that a nonconformance on the same footage was closed, settles nothing by itself. A repair alone is settled by later looks: its re-inspection says by which.',
  'Footage of an item of a handover is as given, and does not follow a corrected counter. Records are no interlock: a hold here does not stop the line.',
];

const LONGEST_WORDS = 5000;

/** An open item before names and nonconformances are put to it. */
interface Found extends Pick<OpenItemAnswer, 'what' | 'record' | 'words'> {
  readonly row: RecordVersion;
  readonly footage: IntervalAnswer[];
  readonly about: AboutRecord | null;
}

/** What is not settled on a string. */
@Injectable()
export class OpenItems {
  constructor(
    private readonly desk: RecordDesk,
    private readonly strings: CasingStringsService,
    private readonly seamEvents: SeamEventsService,
    private readonly splices: SplicesService,
    private readonly rejoins: RejoinsService,
    private readonly histories: RepairHistories,
    private readonly reinspections: Reinspections,
    private readonly inspections: InspectionsService,
    private readonly cutOuts: CutOutsService,
    private readonly nonconformances: NonconformancesService,
    private readonly handovers: HandoversService,
    private readonly acceptances: HandoverAcceptancesService,
    private readonly records: AboutRecords,
  ) {}

  /** As known at an instant, or now. Refuses with 404 when there was no such string, with 409 when it was void. */
  async of(stringId: string, asKnownAt: string | null): Promise<OpenItemsAnswer> {
    const string = await this.strings.open(stringId, asKnownAt);
    const nonconformances = await this.nonconformances.ofString(stringId, asKnownAt);
    const [cutOuts, ...parts] = await Promise.all([
      this.cutOuts.ofString(stringId, asKnownAt), this.stops(stringId, asKnownAt), this.openSplices(stringId, asKnownAt), this.openInspections(stringId, asKnownAt),
      this.handedOver(stringId, asKnownAt), this.openRejoins(stringId, asKnownAt), this.openRepairs(stringId, asKnownAt),
    ]);
    const removed = IntervalSet.from(cutOuts.map(({ span }) => span));
    const found = [...parts.flat(), ...nonconformances.filter(({ stage }) => stage !== 'closed').map(openNonconformance)];
    const open = found.filter((one) => one.what === 'nonconformance' || one.what === 'handover-item' || !isCutOut(one.footage, removed));
    return {
      string: linkTo('casing-string', string, string.name), asKnownAt, items: await this.answers(open, nonconformances, asKnownAt),
      cutOut: found.length - open.length, cautions: CAUTIONS,
    };
  }

  private async stops(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const stops = stopsWithEnds(await this.seamEvents.inOrder(stringId, asKnownAt)).filter(({ end }) => end === null);
    return stops.map(({ stop: row }) => ({
      what: 'stop', record: linkTo('seam-event', row, `${row.event} at ${row.span.fromMm} mm`), words: `the line stands: ${row.cause ?? ''}`, row, footage: [row.span], about: null,
    }));
  }

  private async openSplices(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const splices = await this.splices.ofString(stringId, asKnownAt);
    return splices.flatMap((row): Found[] => {
      const words = openOfSplice(row);
      return words === null ? [] : [{ what: 'splice', record: linkTo('splice', row, row.number), words, row, footage: [row.span], about: null }];
    });
  }

  /** The footage of a re-join is the pipe at both sides of it; of one whose cut-out was withdrawn there is none. */
  private async openRejoins(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const [rejoins, cutOuts] = await Promise.all([this.rejoins.ofString(stringId, asKnownAt), this.cutOuts.ofString(stringId, asKnownAt)]);
    return rejoins.flatMap((row): Found[] => {
      const words = openOfRejoin(row);
      const cut = cutOuts.find(({ id }) => id === row.cutOutId);
      const footage = cut === undefined ? [] : intervalsOf(jointOf(cut.span).subtract(IntervalSet.of(cut.span)));
      return words === null ? [] : [{ what: 'rejoin', record: linkTo('rejoin', row, row.procedure), words, row, footage, about: null }];
    });
  }

  private async openRepairs(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const changed = await this.histories.changed(stringId, asKnownAt);
    const states = await this.reinspections.statesOf(stringId, changed, changed.repairs, asKnownAt);
    return changed.repairs.flatMap(({ row, record }, index): Found[] => {
      const state = states[index];
      if (state === undefined || state.isClosed) return [];
      return [{ what: 'repair', record, words: state.open.join('; ').slice(0, LONGEST_WORDS), row, footage: state.on, about: null }];
    });
  }

  private async openInspections(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const inspections = await this.inspections.notAccepted(stringId, asKnownAt);
    return inspections.map((row) => ({
      what: 'inspection', record: linkTo('inspection', row, `${row.kind}: ${row.characteristic}`), words: openOfInspection(row), row, footage: [row.span], about: null,
    }));
  }

  private async handedOver(stringId: string, asKnownAt: string | null): Promise<Found[]> {
    const handovers = await this.handovers.ofString(stringId, asKnownAt);
    const acceptances = await this.acceptances.ofHandovers(handovers.map(({ id }) => id), asKnownAt);
    return handovers.flatMap((row) =>
      openOfHandover(row, acceptances.get(row.id) ?? null).map(({ item: { about, footageMm }, words }): Found => ({
        what: 'handover-item', record: linkTo('handover', row, `of ${row.observedAt}`), words, row,
        footage: footageMm === null ? [] : [{ fromMm: footageMm, toMm: footageMm + 1 }], about,
      })));
  }

  private async answers(found: readonly Found[], nonconformances: readonly Nonconformance[], asKnownAt: string | null): Promise<OpenItemAnswer[]> {
    const [names, about] = await Promise.all([
      this.desk.namesOf(found.map(({ row }) => row.doneBy)), this.records.links(found.flatMap((one) => one.about ?? []), asKnownAt),
    ]);
    return found.map(({ row, ...one }) => ({
      what: one.what, record: one.record, words: one.words, footage: one.footage, since: row.observedAt, doneBy: row.doneBy, doneByName: names.get(row.doneBy) ?? row.doneBy,
      nonconformances: one.what === 'nonconformance' ? [] : touching(one.footage, nonconformances), about: one.about === null ? null : (about.get(keyOf(one.about)) ?? null),
    })).sort(byAge);
  }
}

function openNonconformance(row: Nonconformance): Found {
  const footage = row.extent.map(({ fromMm, toMm }) => ({ fromMm, toMm }));
  return { what: 'nonconformance', record: linkOf(row), words: `${row.title} (${row.severity}, ${row.stage.replaceAll('-', ' ')})`, row, footage, about: null };
}

const linkOf = (row: Nonconformance): RecordLink => linkTo('nonconformance', row, labelOf(row.number));

function touching(footage: readonly IntervalAnswer[], nonconformances: readonly Nonconformance[]): RecordLink[] {
  const place = IntervalSet.from(footage);
  return nonconformances.filter(({ extent }) => place.overlaps(IntervalSet.from(extent))).map(linkOf);
}
