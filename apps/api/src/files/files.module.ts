import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { CoilsModule } from '../coils/coils.module.js';
import { DocumentsController } from './documents.controller.js';
import { DocumentsService } from './documents.service.js';
import { FilesController } from './files.controller.js';
import { FilesService } from './files.service.js';
import { StoredFiles } from './stored-files.service.js';

@Module({
  imports: [CertificatesModule, CoilsModule],
  controllers: [FilesController, DocumentsController],
  providers: [StoredFiles, FilesService, DocumentsService],
  exports: [StoredFiles, DocumentsService],
})
export class FilesModule {}
