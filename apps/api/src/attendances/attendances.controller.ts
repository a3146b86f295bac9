import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { AttendanceAnswer, AttendanceInput } from './attendance.dto.js';
import { AttendancesService } from './attendances.service.js';

const Routes = recordController({
  path: 'attendances', write: 'attendance:write', input: AttendanceInput, answer: AttendanceAnswer, filters: ['stringId'],
});

@Controller('api/attendances')
export class AttendancesController extends Routes {
  constructor(attendances: AttendancesService) {
    super(attendances);
  }
}
