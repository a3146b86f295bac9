import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CoilReceiptAnswer, CoilReceiptInput } from './coil-receipt.dto.js';
import { CoilReceiptsService } from './coil-receipts.service.js';

const Routes = recordController({
  path: 'coil-receipts', write: 'coil-receipt:write', input: CoilReceiptInput, answer: CoilReceiptAnswer, filters: ['coilId'],
});

@Controller('api/coil-receipts')
export class CoilReceiptsController extends Routes {
  constructor(receipts: CoilReceiptsService) {
    super(receipts);
  }
}
