import { Controller, Get, Query } from '@nestjs/common';
import { ApiOperation, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { GRADES, type Grade } from '#libs/strip';
import { Allow } from '../access/allow.decorator.js';
import { isPrintable } from '../http/fields.js';
import { malformed } from '../http/problem.js';
import { GradesAnswer, type GradeAnswer } from './grade.dto.js';

@ApiTags('questions')
@Controller('api/strip-grades')
export class GradesController {
  @Get()
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'Limits of standard grades, to begin a specification from',
    description: 'Only values that were read in a source are here; a grade may be incomplete, and the standard itself decides.',
  })
  @ApiQuery({ name: 'text', required: false, description: 'Part of the name of a standard or grade; all when absent.', schema: { type: 'string', maxLength: 60, example: 'S420MC' } })
  @ApiResponse({ status: 200, type: GradesAnswer, description: 'The grades.' })
  list(@Query('text') text: unknown): GradesAnswer {
    if (text !== undefined && !isPrintable(text, 1, 60)) {
      throw malformed([{ field: 'text', value: text, limit: '1 to 60 printable characters' }]);
    }
    const wanted = text?.toUpperCase() ?? '';
    return { grades: GRADES.filter(({ standard, grade }) => `${standard} ${grade}`.toUpperCase().includes(wanted)).map(answerOf) };
  }
}

function answerOf({ standard, edition, grade, source, lines }: Grade): GradeAnswer {
  return { standard, edition, grade, source, lines: lines.map((line) => ({ ...line })) };
}
