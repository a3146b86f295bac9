import { Module } from '@nestjs/common';
import { ShiftsModule } from '../shifts/shifts.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { StringRecordsModule } from '../string-records/string-records.module.js';
import { ChangesSinceController } from './changes-since.controller.js';
import { ChangesSince } from './changes-since.service.js';

/** What changed since one's last shift. */
@Module({ imports: [CasingStringsModule, ShiftsModule, StringRecordsModule], controllers: [ChangesSinceController], providers: [ChangesSince] })
export class ChangesSinceModule {}
