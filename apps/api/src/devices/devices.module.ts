import { Module } from '@nestjs/common';
import { DeviceTokensService } from './device-tokens.service.js';
import { DevicesController } from './devices.controller.js';
import { DevicesService } from './devices.service.js';

@Module({ controllers: [DevicesController], providers: [DevicesService, DeviceTokensService], exports: [DevicesService] })
export class DevicesModule {}
