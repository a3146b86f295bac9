import { Controller, Get, Injectable } from '@nestjs/common';
import { ApiOperation, ApiProperty, ApiResponse, ApiTags } from '@nestjs/swagger';
import { DataSource } from 'typeorm';
import { MIGRATIONS } from '../../../../migrations/index.js';
import { AllowEveryone } from '../access/allow.decorator.js';
import { Refused } from '../http/problem.js';

const ANSWER_MS = 3000;

export class HealthAnswer {
  @ApiProperty({ description: 'Always ok; anything else is answered as a problem.', enum: ['ok'], example: 'ok' })
  status!: 'ok';
}

/** Asks the database whether this program can work with it. */
@Injectable()
export class Readiness {
  constructor(private readonly dataSource: DataSource) {}

  /** Refuses with 503 when the database does not answer in time or lacks migrations. */
  async check(): Promise<void> {
    const applied = await this.applied().catch(() => null);
    if (applied === null) throw notReady('The database does not answer.');
    const missing = MIGRATIONS.map(({ name }) => name).filter((name) => !applied.has(name));
    if (missing.length > 0) throw notReady(`The database lacks migrations: ${missing.join(', ')}.`);
  }

  private async applied(): Promise<ReadonlySet<string>> {
    const answer: Promise<{ name: string }[]> = this.dataSource.query('select name from migrations');
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => { reject(new Error('late')); }, ANSWER_MS);
    });
    const rows = await Promise.race([answer, late]).finally(() => { clearTimeout(timer); });
    return new Set(rows.map((row) => row.name));
  }
}

const notReady = (detail: string): Refused => new Refused(503, 'not-ready', detail, [], { retryAfterSeconds: 5 });

@ApiTags('health')
@Controller('health')
export class HealthController {
  constructor(private readonly readiness: Readiness) {}

  @Get('live')
  @AllowEveryone()
  @ApiOperation({ summary: 'Whether the process runs', security: [] })
  @ApiResponse({ status: 200, type: HealthAnswer, description: 'It runs.' })
  live(): HealthAnswer {
    return { status: 'ok' };
  }

  @Get('ready')
  @AllowEveryone()
  @ApiOperation({ summary: 'Whether the database answers and has all migrations; 503 when not', security: [] })
  @ApiResponse({ status: 200, type: HealthAnswer, description: 'It is ready.' })
  async ready(): Promise<HealthAnswer> {
    await this.readiness.check();
    return { status: 'ok' };
  }
}
