import { Module } from '@nestjs/common';
import { EvidenceModule } from '../evidence/evidence.module.js';
import { ReleasesModule } from '../releases/releases.module.js';
import { CasingStringsModule } from '../strings/casing-strings.module.js';
import { OwnWork } from './own-work.service.js';
import { ReleaseProposals } from './release-proposals.service.js';
import { ReleaseStandings } from './release-standings.service.js';
import { ReleasesController } from './releases.controller.js';
import { ReleasesService } from './releases.service.js';

/** Releases of pipe: what they would rest on, their signatures, and what became of them. */
@Module({
  imports: [CasingStringsModule, EvidenceModule, ReleasesModule],
  controllers: [ReleasesController],
  providers: [OwnWork, ReleaseProposals, ReleaseStandings, ReleasesService],
})
export class ReleaseSigningModule {}
