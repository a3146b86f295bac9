import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { CoilSegmentAnswer, CoilSegmentInput } from './coil-segment.dto.js';
import { CoilSegmentsService } from './coil-segments.service.js';

const Routes = recordController({
  path: 'coil-segments',
  write: 'coil-segment:write',
  input: CoilSegmentInput,
  answer: CoilSegmentAnswer,
  filters: ['stringId', 'coilId'],
});

@Controller('api/coil-segments')
export class CoilSegmentsController extends Routes {
  constructor(segments: CoilSegmentsService) {
    super(segments);
  }
}
