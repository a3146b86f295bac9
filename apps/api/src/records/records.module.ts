import { Global, Module } from '@nestjs/common';
import { RecordDesk } from './record-desk.js';
import { StringChanges } from './string-changes.js';

/** The one way in for all records. */
@Global()
@Module({ providers: [RecordDesk, StringChanges], exports: [RecordDesk, StringChanges] })
export class RecordsModule {}
