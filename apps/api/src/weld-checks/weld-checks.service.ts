import { Injectable } from '@nestjs/common';
import type { Verdict } from '#libs/conformity';
import { localDay, type EventVariable, type Moment, type QualifiedEvent } from '#libs/validity';
import { procedureChecker, type HeatInput } from '#libs/welding';
import { InstrumentStandings } from '../instrument-standing/instrument-standings.service.js';
import type { InstrumentStandingAnswer } from '../instrument-standing/instrument-standing.dto.js';
import type { QualifiedAnswer } from '../qualified/qualified.dto.js';
import { QualifiedPeople } from '../qualified/qualified.service.js';
import { CasingStringsService } from '../strings/casing-strings.service.js';
import { linkTo } from '../trace/record-link.js';
import type { WeldProcedureVersion } from '../weld-procedures/weld-procedure.entity.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { weldEnergies } from '../welds/weld-energies.js';
import type { Weld } from '../welds/weld.entity.js';
import { actualWeld } from '../welds/weld.rules.js';
import { WeldsService } from '../welds/welds.service.js';
import { siteMoment } from '../wells/site-time.js';
import { WellsService } from '../wells/wells.service.js';
import type { HeatInputAnswer, WeldCheckAnswer, WeldOpenPoint } from './weld-check.dto.js';

const CAUTION =
  'It shows whether procedure, welder and instruments are on record as they should be, not whether the weld is sound; that is for its '
  + 'examination, and the evaluation for the welding coordinator.';

/** What welds rest on: procedure, welder and instruments, when they were made. */
@Injectable()
export class WeldChecks {
  constructor(
    private readonly welds: WeldsService,
    private readonly procedures: WeldProceduresService,
    private readonly qualified: QualifiedPeople,
    private readonly instruments: InstrumentStandings,
    private readonly strings: CasingStringsService,
    private readonly wells: WellsService,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when there was no such weld. */
  async of(weldId: string, asKnownAt: string | null): Promise<WeldCheckAnswer> {
    const weld = await this.welds.row(weldId, asKnownAt);
    const procedure = await this.procedures.row(weld.weldProcedureId, asKnownAt);
    const limits = weldProcedureOf(procedure);
    const moment = await this.momentOf(weld, asKnownAt);
    const ids = [...new Set(weld.readings.map(({ instrumentId }) => instrumentId).filter((id) => id !== null))];
    const [welder, instruments] = await Promise.all([
      this.qualified.of(weld.doneBy, { event: eventOf(weld, procedure, moment), at: weld.observedAt, asKnownAt }),
      Promise.all(ids.map((id) => this.instruments.at(id, { ...moment, text: weld.observedAt }, asKnownAt))),
    ]);
    const { verdict, lines } = procedureChecker(limits)(actualWeld(weld, limits));
    const open = [...procedureOpen(moment, procedure, verdict), ...welderOpen(welder), ...instrumentsOpen(weld, instruments)];
    return {
      weld: linkTo('weld', weld, `of ${weld.observedAt}`), procedure: linkTo('weld-procedure', procedure, limits.name), verdict,
      lines: lines.map(({ subject, name, limits: allowed, reported, verdict: said, margin, decidedBy, rule, reason }) => (
        { subject, name, limits: allowed, reported, verdict: said, margin, decidedBy, rule, reason })),
      heatInputs: weldEnergies(weld, processOf(weld, procedure)).map(heatInputAnswer), welder, instruments, isProved: open.length === 0, open, caution: CAUTION,
    };
  }

  /** When it was made, by the time of its site. */
  private async momentOf({ stringId, observedAt }: Weld, asKnownAt: string | null): Promise<Moment> {
    const { wellId } = await this.strings.row(stringId, asKnownAt);
    const { timeZone } = await this.wells.row(wellId, asKnownAt);
    return siteMoment(timeZone, observedAt);
  }
}

const processOf = ({ chosen }: Weld, { process }: WeldProcedureVersion): string => chosen.find(({ choice }) => choice === 'process')?.value ?? process;

/** What the welder did, as a qualification covers it: by the names of the weld's variables and choices, each as first reported. */
function eventOf(weld: Weld, procedure: WeldProcedureVersion, moment: Moment): QualifiedEvent {
  const measured = weld.readings.map(({ variable, printed, unit }): EventVariable => ({ name: variable, value: printed, unit }));
  const chosen = weld.chosen.filter(({ choice }) => choice !== 'process').map(({ choice, value }): EventVariable => ({ name: choice, value, unit: null }));
  const all = [...measured, ...chosen];
  return { ...moment, method: processOf(weld, procedure), level: null, variables: all.filter(({ name }, index) => all.findIndex((one) => one.name === name) === index) };
}

function heatInputAnswer(energy: HeatInput): HeatInputAnswer {
  if ('notComputable' in energy) return { method: energy.method, kjPerMm: null, because: energy.notComputable };
  const { what, formula, source } = energy.explanation;
  return { method: energy.method, kjPerMm: energy.kjPerMm, because: `${what}: ${formula} (${source})` };
}

function procedureOpen(moment: Moment, { number, revision, effectiveFrom, test, state, purpose }: WeldProcedureVersion, verdict: Verdict): WeldOpenPoint[] {
  const name = `${number} rev ${revision}`;
  const about = 'procedure' as const;
  return [
    ...(state === 'void' ? [{ about, words: `${name} was withdrawn` }] : []),
    ...(test === null ? [{ about, words: `${name}, for ${purpose}, has no record of a test that qualified it` }] : []),
    ...(localDay(moment) < effectiveFrom ? [{ about, words: `${name} is in force from ${effectiveFrom} only` }] : []),
    ...(verdict === 'conforms' ? [] : [{ about, words: `held against ${name} the weld is: ${verdict}` }]),
  ];
}

function welderOpen({ found, because }: QualifiedAnswer): WeldOpenPoint[] {
  return found === 'covering' ? [] : [{ about: 'welder', words: because }];
}

function instrumentsOpen({ readings }: Weld, standings: readonly InstrumentStandingAnswer[]): WeldOpenPoint[] {
  const unnamed = readings.flatMap(({ instrumentId, variable }, index): WeldOpenPoint[] =>
    (instrumentId === null ? [{ about: 'instrument', words: `readings[${index}], ${variable}, names no instrument on record` }] : []));
  const bad = standings.filter(({ state }) => state !== 'good').map(({ instrument, because }): WeldOpenPoint => ({ about: 'instrument', words: `${instrument.label} was ${because}` }));
  return [...unnamed, ...bad];
}
