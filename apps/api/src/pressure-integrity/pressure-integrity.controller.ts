import { Controller, Get, Param, Query } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import { pathId } from '../records/record.controller.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { pressureAnswer } from './pressure-answer.js';
import { PressureIntegrityAnswer } from './pressure-integrity.dto.js';
import { PressureProfiles } from './pressure-profiles.service.js';
import { PRESSURE_MEASURES, pressureQuestionOf } from './pressure-question.js';

const STRING = { name: 'id', description: 'The casing string.', format: 'uuid' };
const PIPE = [
  ApiQuery({ name: 'by', required: false, enum: PRESSURE_MEASURES, description: 'The measure of fromM and toM; md when absent.', example: 'md' }),
  ApiQuery({ name: 'fromM', required: false, description: 'Where the interval begins, metres; both walls whole when both ends are absent.', schema: { type: 'string', example: '200' } }),
  ApiQuery({ name: 'toM', required: false, description: 'Where it ends, metres; not part of it.', schema: { type: 'string', example: '300' } }),
  ApiQuery({ name: 'at', required: false, description: 'The walls at this time.', schema: { type: 'string', example: '2026-03-12T16:00:00Z' } }),
  ApiQuery({ name: 'shoeMdM', required: false, description: 'The walls with the shoe at this depth, metres.', schema: { type: 'string', example: '598.3' } }),
  ApiQuery({ name: 'windowM', required: false, description: 'Length of pipe for which one least wall stands, metres, 0.1 to 1000; 10, or more for more than 20 km, when absent.', schema: { type: 'string', example: '10' } }),
  KnownAtQuery(),
];
const pipe = (target: object, key: string | symbol, descriptor: PropertyDescriptor): void => {
  for (const decorate of PIPE) decorate(target, key, descriptor);
};

@ApiTags('questions')
@Controller('api/casing-strings')
export class PressureIntegrityController {
  constructor(private readonly profiles: PressureProfiles) {}

  @Get(':id/pressure-integrity')
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Internal yield and collapse of both walls as built, advisory',
    description:
      'By API TR 5C3 / ISO 10400 from the yield strength and the least measured wall on record, interval by interval; the outer wall through the fold. '
      + 'What is missing is told as "not computable, because"; nothing is guessed. The weakest of each wall is told with the records it rests on.',
  })
  @ApiParam(STRING)
  @pipe
  @ApiQuery({ name: 'explain', required: false, enum: ['true', 'false'], description: 'Each step with its inputs.', example: 'true' })
  @ApiResponse({ status: 200, type: PressureIntegrityAnswer, description: 'Both walls.' })
  async profile(@Param('id') id: string, @Query() query: AnyQuery): Promise<PressureIntegrityAnswer> {
    return pressureAnswer(await this.profiles.of(pathId(id), pressureQuestionOf(query)));
  }
}
