import { Module } from '@nestjs/common';
import { CertificatesModule } from '../certificates/certificates.module.js';
import { HeatsModule } from '../heats/heats.module.js';
import { StripOrdersModule } from '../orders/strip-orders.module.js';
import { CoilsController } from './coils.controller.js';
import { CoilsService } from './coils.service.js';

@Module({
  imports: [HeatsModule, CertificatesModule, StripOrdersModule],
  controllers: [CoilsController],
  providers: [CoilsService],
  exports: [CoilsService],
})
export class CoilsModule {}
