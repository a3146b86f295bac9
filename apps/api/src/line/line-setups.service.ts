import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { RecordDesk } from '../records/record-desk.js';
import { RecordsService, type Content } from '../records/records.service.js';
import { LineSetupInput, type LineSetupContent, type StationInput } from './line-setup.dto.js';
import { LineSetup, type StationColumn } from './line-setup.entity.js';
import { refuseContradictingStations } from './line-setup.rules.js';

@Injectable()
export class LineSetupsService extends RecordsService<LineSetup, LineSetupInput, LineSetupContent> {
  readonly kind = 'line set-up';
  readonly entity = LineSetup;
  readonly input = LineSetupInput;
  protected override readonly effect = 'moves';
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    uq_line_setup_from: { field: 'observedAt', limit: 'a time from which no other set-up of the string is valid' },
    xc_cut_out_span: { field: 'stations', limit: 'distances that leave the cut-outs apart: two would remove the same pipe' },
  };

  constructor(desk: RecordDesk) {
    super(desk);
  }

  protected content(_tx: Transaction, input: LineSetupInput): Content<LineSetup> {
    const stations = input.stations.map(stationColumn);
    refuseContradictingStations(stations);
    return { stringId: input.stringId, stations, viewing: input.viewing, note: input.note ?? null };
  }

  protected present({ stringId, stations, viewing, note }: LineSetup): LineSetupContent {
    return { stringId, stations: [...stations], viewing, note };
  }
}

function stationColumn({ name, role, pathMinMm, pathMaxMm, uMm }: StationInput): StationColumn {
  return { name, role: role ?? null, pathMinMm, pathMaxMm, uMm };
}
