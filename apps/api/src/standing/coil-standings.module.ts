import { Module } from '@nestjs/common';
import { DeviationPermitsModule } from '../permits/deviation-permits.module.js';
import { CoilStandings } from './coil-standings.service.js';

@Module({ imports: [DeviationPermitsModule], providers: [CoilStandings], exports: [CoilStandings, DeviationPermitsModule] })
export class CoilStandingsModule {}
