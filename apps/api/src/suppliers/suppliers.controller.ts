import { Controller, Get, Query } from '@nestjs/common';
import { ApiOperation, ApiQuery, ApiResponse, ApiTags } from '@nestjs/swagger';
import { Allow } from '../access/allow.decorator.js';
import { KnownAtQuery } from '../records/known-at.js';
import type { Query as AnyQuery } from '../trace/trace-question.js';
import { LONGEST_GRADE, LONGEST_MILL, supplierQuestionOf } from './supplier-question.js';
import { SupplierViewAnswer } from './supplier-view.dto.js';
import { SupplierViews } from './supplier-views.service.js';

@ApiTags('questions')
@Controller('api/supplier-view')
export class SuppliersController {
  constructor(private readonly views: SupplierViews) {}

  @Get()
  @Allow('questions:ask')
  @ApiOperation({
    summary: 'How the coils of a mill turned out',
    description:
      'Certified and measured values over all coils ordered at a mill, against the limits each coil was ordered to: distribution, '
      + 'Ppk with its 95 % interval, what lies outside; coils by standing; papers that had to be corrected.',
  })
  @ApiQuery({ name: 'mill', description: 'The mill, as orders spell it.', schema: { type: 'string', minLength: 1, maxLength: LONGEST_MILL, example: 'Tarnwick Steelworks' } })
  @ApiQuery({ name: 'grade', required: false, description: 'Only orders of this grade, as specifications spell it.', schema: { type: 'string', minLength: 1, maxLength: LONGEST_GRADE, example: 'S420MC' } })
  @ApiQuery({ name: 'thicknessMm', required: false, description: 'Only orders of this thickness, mm.', schema: { type: 'string', example: '5.00' } })
  @KnownAtQuery()
  @ApiResponse({ status: 200, type: SupplierViewAnswer, description: 'The view.' })
  view(@Query() query: AnyQuery): Promise<SupplierViewAnswer> {
    return this.views.of(supplierQuestionOf(query));
  }
}
