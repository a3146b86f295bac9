import { Controller } from '@nestjs/common';
import { recordController } from '../records/record.controller.js';
import { ChannelAnswer, ChannelInput } from './channel.dto.js';
import { ChannelsService } from './channels.service.js';

const Routes = recordController({
  path: 'channels', write: 'channel:write', input: ChannelInput, answer: ChannelAnswer, filters: ['stringId'],
});

@Controller('api/channels')
export class ChannelsController extends Routes {
  constructor(channels: ChannelsService) {
    super(channels);
  }
}
