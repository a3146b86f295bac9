import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { DocumentAnswer, DocumentInput } from './document.dto.js';
import { DocumentsService } from './documents.service.js';

const Routes = recordController({
  path: 'documents', write: 'file:write', input: DocumentInput, answer: DocumentAnswer, filters: ['certificateId', 'coilId'],
});

@Controller('api/documents')
export class DocumentsController extends Routes {
  constructor(documents: DocumentsService) {
    super(documents);
  }
}
