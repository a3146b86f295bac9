import { Controller, Get, Query } from '@nestjs/common';
import { ApiOperation, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
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
      'From a heat, coil, certificate, person, splice, counter period, nonconformance, instrument or weld procedure, exactly one, to footage '
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
  @ApiQuery({ name: 'instrumentId', required: false, description: 'Whatever was measured with this instrument or with what was calibrated against it: pipe, welds, the coils measured when they came in.' })
  @ApiQuery({ name: 'weldProcedureId', required: false, description: 'The splices and re-joins that were welded by this revision of a procedure.' })
  @ApiQuery({ name: 'at', required: false, description: 'The walls at this time; at each last reading when absent.', example: '2026-03-12T16:00:00Z' })
  @ApiQuery({ name: 'asKnownAt', required: false, description: 'As known at this instant; now when absent.', example: '2026-03-13T12:00:00Z' })
  @ApiResponse({ status: 200, type: RecallAnswer, description: 'What is concerned, and where.' })
  recall(@Query() query: AnyQuery): Promise<RecallAnswer> {
    return this.recalls.recall(recallQuestionOf(query));
  }
}
