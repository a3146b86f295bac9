import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { StripOrderAnswer, StripOrderInput } from './strip-order.dto.js';
import { StripOrdersService } from './strip-orders.service.js';

const Routes = recordController({
  path: 'strip-orders', write: 'strip-order:write', input: StripOrderInput, answer: StripOrderAnswer, filters: ['specificationId'],
});

@Controller('api/strip-orders')
export class StripOrdersController extends Routes {
  constructor(orders: StripOrdersService) {
    super(orders);
  }
}
