import { Injectable } from '@nestjs/common';
import type { Transaction } from '#libs/persistence';
import { ControlPlansService } from '../control-plans/control-plans.service.js';
import { contradictory } from '../http/problem.js';
import { PlacedRecordsService } from '../line/placed-records.service.js';
import { Places } from '../line/places.service.js';
import { RecordDesk } from '../records/record-desk.js';
import type { Content } from '../records/records.service.js';
import { AttendanceInput, type AttendanceContent } from './attendance.dto.js';
import { Attendance } from './attendance.entity.js';
import { attendanceFaults } from './attendance.rules.js';

@Injectable()
export class AttendancesService extends PlacedRecordsService<Attendance, AttendanceInput, AttendanceContent> {
  readonly kind = 'attendance';
  readonly entity = Attendance;
  readonly input = AttendanceInput;
  protected override readonly filters = { stringId: 'string_id' };
  protected override readonly constraints = {
    // The plan was amended or withdrawn at the same moment.
    ck_attendance_item: { field: 'itemCode', limit: 'the code of a point in a standing control plan of the string', code: 'unknown-reference' },
  };

  constructor(
    desk: RecordDesk,
    places: Places,
    private readonly plans: ControlPlansService,
  ) {
    super(desk, places);
  }

  protected async content(tx: Transaction, input: AttendanceInput, current: Attendance | null): Promise<Content<Attendance>> {
    const faults = attendanceFaults(input);
    if (faults.length > 0) throw contradictory(faults);
    const { stringId, itemCode, outcome, attendedBy, note } = input;
    // Asked when the record first names it: a later plan takes nothing from what was attended.
    if (itemCode !== current?.itemCode) await this.plans.namedPoint(tx, 'itemCode', itemCode, stringId);
    const place = await this.placeOf(tx, input, { id: current?.id ?? null });
    return Object.assign(place, { itemCode, outcome, attendedBy: attendedBy.map(({ name, party }) => ({ name, party })), note: note ?? null });
  }

  protected present(row: Attendance): AttendanceContent {
    const { itemCode, outcome, attendedBy, note } = row;
    return Object.assign(this.presentPlace(row), { itemCode, outcome, attendedBy: attendedBy.map(({ name, party }) => ({ name, party })), note });
  }
}
