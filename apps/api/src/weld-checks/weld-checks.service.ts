import { Injectable } from '@nestjs/common';
import { procedureChecker, type HeatInput } from '#libs/welding';
import { linkTo } from '../trace/record-link.js';
import { weldProcedureOf } from '../weld-procedures/weld-procedure.rules.js';
import { WeldProceduresService } from '../weld-procedures/weld-procedures.service.js';
import { weldEnergies } from '../welds/weld-energies.js';
import { weldLabel } from '../welds/weld-label.js';
import type { Weld } from '../welds/weld.entity.js';
import { actualWeld } from '../welds/weld.rules.js';
import { WeldsService } from '../welds/welds.service.js';
import { instrumentsOpen, personOpen, procedureOpen, type ReadWith } from '../work-standing/open-points.js';
import { WorkStandings } from '../work-standing/work-standings.service.js';
import type { HeatInputAnswer, WeldCheckAnswer, WeldOpenPoint } from './weld-check.dto.js';
import { processOf, workOfWeld } from './work-of-weld.js';

const CAUTION =
  'It shows whether procedure, welder and instruments are on record as they should be, not whether the weld is sound; that is for its '
  + 'examination, and the evaluation for the welding coordinator.';

/** What welds rest on: procedure, welder and instruments, when they were made. */
@Injectable()
export class WeldChecks {
  constructor(
    private readonly welds: WeldsService,
    private readonly procedures: WeldProceduresService,
    private readonly standings: WorkStandings,
  ) {}

  /** By what was known at the instant asked about. Refuses with 404 when there was no such weld. */
  async of(weldId: string, asKnownAt: string | null): Promise<WeldCheckAnswer> {
    return this.ofRow(await this.welds.row(weldId, asKnownAt), asKnownAt);
  }

  /** The same of a weld that was read already. */
  async ofRow(weld: Weld, asKnownAt: string | null): Promise<WeldCheckAnswer> {
    const procedure = await this.procedures.row(weld.weldProcedureId, asKnownAt);
    const limits = weldProcedureOf(procedure);
    const moment = await this.standings.momentOf(weld, asKnownAt);
    const readings = weld.readings.map(({ instrumentId, variable }, index): ReadWith => ({ instrumentId, name: `readings[${index}], ${variable}` }));
    const [welder, instruments] = await Promise.all([
      this.standings.person(weld.doneBy, moment, workOfWeld(weld, procedure), asKnownAt), this.standings.instrumentsOf(readings, moment, asKnownAt),
    ]);
    const { verdict, lines } = procedureChecker(limits)(actualWeld(weld, limits));
    const kept: WeldOpenPoint[] = verdict === 'conforms' ? [] : [{ about: 'procedure', words: `held against ${limits.name} the weld is: ${verdict}` }];
    const open = [...procedureOpen(moment, procedure), ...kept, ...personOpen('welder', welder), ...instrumentsOpen(readings, instruments)];
    return {
      weld: linkTo('weld', weld, weldLabel(weld)), procedure: linkTo('weld-procedure', procedure, limits.name), verdict,
      lines: lines.map(({ subject, name, limits: allowed, reported, verdict: said, margin, decidedBy, rule, reason }) => (
        { subject, name, limits: allowed, reported, verdict: said, margin, decidedBy, rule, reason })),
      heatInputs: weldEnergies(weld, processOf(weld, procedure)).map(heatInputAnswer), welder, instruments, isProved: open.length === 0, open, caution: CAUTION,
    };
  }
}

function heatInputAnswer(energy: HeatInput): HeatInputAnswer {
  if ('notComputable' in energy) return { method: energy.method, kjPerMm: null, because: energy.notComputable };
  const { what, formula, source } = energy.explanation;
  return { method: energy.method, kjPerMm: energy.kjPerMm, because: `${what}: ${formula} (${source})` };
}
