import { Module } from '@nestjs/common';
import { ChartLimitsRows } from './chart-limits-rows.service.js';

/** The limits of control charts on record. */
@Module({ providers: [ChartLimitsRows], exports: [ChartLimitsRows] })
export class ChartLimitsModule {}
