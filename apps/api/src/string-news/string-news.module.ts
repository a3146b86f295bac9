import { Module } from '@nestjs/common';
import { StringNews } from './string-news.js';

/** What was written of a string, told at once to who follows it. */
@Module({ providers: [StringNews], exports: [StringNews] })
export class StringNewsModule {}
