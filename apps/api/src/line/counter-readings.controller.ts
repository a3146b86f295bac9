import { Body, Controller, Post } from '@nestjs/common';
import { ApiBody, ApiHeader, ApiOperation, ApiResponse } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { recordController } from '../records/record.controller.js';
import { Write, type WriteRequest } from '../records/write-request.js';
import {
  CounterReadingAnswer, CounterReadingBatchAnswer, CounterReadingBatchInput, CounterReadingInput,
} from './counter-reading.dto.js';
import { CounterReadingsService } from './counter-readings.service.js';

const Routes = recordController({
  path: 'counter-readings',
  write: 'counter-reading:write',
  create: 'counter-reading:append',
  input: CounterReadingInput,
  answer: CounterReadingAnswer,
  filters: ['stringId'],
});

@Controller('api/counter-readings')
export class CounterReadingsController extends Routes {
  constructor(private readonly readings: CounterReadingsService) {
    super(readings);
  }

  @Post('batch')
  @Allow('counter-reading:append')
  @ApiHeader({ name: 'Idempotency-Key', required: false, description: 'A repeated request with this key gives the first answer again.' })
  @ApiOperation({ summary: 'Enter many counter readings of one string: all are taken, or none' })
  @ApiBody({ type: CounterReadingBatchInput })
  @ApiResponse({ status: 201, type: CounterReadingBatchAnswer, description: 'The readings as taken, in the order sent.' })
  createAll(@Body() body: unknown, @Write() request: WriteRequest): Promise<CounterReadingBatchAnswer> {
    return this.readings.createAll(body, request);
  }
}
