import { Controller, Get, Query } from '@nestjs/common';
import { ApiOperation, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { recallQuestionOf } from './recall-question.js';
import { RecallAnswer } from './recall.dto.js';
import { RecallService } from './recall.service.js';

@ApiTags('questions')
@Controller('api/recall')
export class RecallController {
  constructor(private readonly recalls: RecallService) {}

  @Get()
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Everything that follows from one record, and where it is',
    description:
      'From a heat, coil, certificate, person, splice, counter period, nonconformance, instrument, calibration, qualification, weld procedure or batch of filler '
      + 'or gas, exactly one, to records, their footage '
      + 'on every string, to depths on both walls (certainly, by the best estimate, possibly), to what is elsewhere, and '
      + 'to the other evidence on that ground.',
  })
  @ApiQuery({ name: 'heatId', required: false, description: 'Pipe of every coil of this heat.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b05' })
  @ApiQuery({ name: 'coilId', required: false, description: 'Pipe of this coil, and where the rest of its strip is.' })
  @ApiQuery({ name: 'certificateId', required: false, description: 'Pipe of every coil on this certificate.' })
  @ApiQuery({ name: 'personId', required: false, description: 'Whatever this person did or keyed.' })
  @ApiQuery({ name: 'spliceId', required: false, description: 'The interval of this splice.' })
  @ApiQuery({ name: 'counterPeriodId', required: false, description: 'Pipe made while this counter period held, and every place that rests on it.' })
  @ApiQuery({ name: 'nonconformanceId', required: false, description: 'The pipe and strip of this nonconformance.' })
  @ApiQuery({ name: 'instrumentId', required: false, description: 'Whatever was measured with this instrument; possibly what was measured with others while they rested on it as reference standard.' })
  @ApiQuery({ name: 'calibrationId', required: false, description: 'What this calibration puts in doubt: certainly where it found or left the instrument out of tolerance or was withdrawn, possibly where no as-found was taken, or through a reference standard.' })
  @ApiQuery({ name: 'qualificationId', required: false, description: 'The work of its person by its methods that neither it nor another qualification covered on its day; possibly, where only the scope of the work is not on record.' })
  @ApiQuery({ name: 'weldProcedureId', required: false, description: 'The welds and repairs made by this revision of a procedure, and the events of the seam weld that ran by it.' })
  @ApiQuery({ name: 'fillerBatch', required: false, description: 'The welds and repairs that this batch of filler went into; possibly those with a batch easily taken for it.', schema: { type: 'string', minLength: 1, maxLength: 60, example: 'FB-4471' } })
  @ApiQuery({ name: 'gasBatch', required: false, description: 'The same of a batch of gas.', schema: { type: 'string', minLength: 1, maxLength: 60, example: 'GB-1002' } })
  @ApiQuery({ name: 'at', required: false, description: 'The walls at this time; at each last reading when absent.', example: '2026-03-12T16:00:00Z' })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: RecallAnswer, description: 'What is concerned, and where.' })
  recall(@Query() query: AnyQuery): Promise<RecallAnswer> {
    return this.recalls.recall(recallQuestionOf(query));
  }
}
