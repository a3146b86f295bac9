import { Choice, Computed, Id, Part, Parts, Sha256, Text, When, Whole, YesNo } from '../http/fields.js';

export const POSITION_KINDS = ['counter', 'time'] as const;

/** A column of the parts, by its name there. */
export class UploadColumnPart {
  @Text({ description: 'Its name in the parts.', example: 'wall', max: 60 })
  column!: string;

  @Id({ description: 'The channel whose samples it holds.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' })
  channelId!: string;
}

/** What the parts of an upload will be. */
export class SignalUploadInput {
  @Id({ description: 'Made by the sender: sent again with the same content, it is the same upload.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b45' })
  id!: string;

  @Id({ description: 'The inspection run that the samples were read in.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b61' })
  runId!: string;

  @Text({ description: 'Name of the column that places each sample.', example: 'counter', max: 60 })
  positionColumn!: string;

  @Choice({ description: 'What it holds: readings of the counter of the run, or instants.', example: 'counter', of: POSITION_KINDS })
  position!: (typeof POSITION_KINDS)[number];

  @Whole({ description: 'Decimals of the counter that are kept; more are refused. 0 for instants.', example: 0, min: 0, max: 6, unit: 'decimals' })
  decimals!: number;

  @Parts({ description: 'The other columns.', of: () => UploadColumnPart, min: 1, max: 64, example: [{ column: 'wall', channelId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' }] })
  columns!: UploadColumnPart[];
}

export class SignalUploadEndInput {
  @Whole({ description: 'How many parts were sent, numbered from 1 on.', example: 2, min: 1, max: 1_000_000, unit: 'parts' })
  partCount!: number;
}

/** Parts that are here, from the first number to the last. */
export class PartRangeAnswer {
  @Computed({ description: 'First number.', example: 1 })
  from!: number;

  @Computed({ description: 'Last number.', example: 2 })
  to!: number;
}

export class SignalUploadAnswer {
  @Id({ description: 'The upload.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b45' })
  id!: string;

  @Id({ description: 'The casing string.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b47' })
  stringId!: string;

  @Id({ description: 'The inspection run.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b61' })
  runId!: string;

  @Text({ description: 'Name of the column that places each sample.', example: 'counter', max: 60 })
  positionColumn!: string;

  @Choice({ description: 'What it holds.', example: 'counter', of: POSITION_KINDS })
  position!: (typeof POSITION_KINDS)[number];

  @Computed({ description: 'Decimals of the counter that are kept.', example: 0 })
  decimals!: number;

  @Parts({ description: 'The other columns.', of: () => UploadColumnPart, max: 64, example: [{ column: 'wall', channelId: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b60' }] })
  columns!: UploadColumnPart[];

  @When({ description: 'When it was opened here.', example: '2026-11-02T09:00:00.000000Z' })
  recordedAt!: string;

  @Parts({ description: 'The parts that are here.', of: () => PartRangeAnswer, max: 1_000_000, example: [{ from: 1, to: 2 }] })
  parts!: PartRangeAnswer[];

  @Computed({ description: 'Samples of each column that are here.', example: 8192 })
  samples!: number;

  @Computed({ description: 'Parts that it was ended with; null while more may come.', example: 2, optional: true })
  endedWith!: number | null;
}

/** A part as it was taken. */
export class SignalPartAnswer {
  @Id({ description: 'The upload.', example: '0197a2c4-5b00-7d31-9c11-3a5d0e7f1b45' })
  uploadId!: string;

  @Computed({ description: 'Its number.', example: 1 })
  partNo!: number;

  @Sha256({ description: 'SHA-256 of its bytes as they were sent.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  sha256!: string;

  @Computed({ description: 'Samples of each column.', example: 4096 })
  samples!: number;

  @Computed({ description: 'Values that are not numbers of single precision: kept as the nearest.', example: 0 })
  narrowed!: number;

  @Choice({ description: 'Which way the pipe went.', example: 'forward', of: ['forward', 'backward'] })
  direction!: 'forward' | 'backward';

  @When({ description: 'The sender\'s clock at the first sample.', example: '2026-11-02T09:00:00.000000Z' })
  firstAt!: string;

  @When({ description: 'The same at the last sample.', example: '2026-11-02T09:00:41.000000Z' })
  lastAt!: string;

  @When({ description: 'When it was taken here; from then on every question sees it.', example: '2026-11-02T09:00:43.120000Z' })
  recordedAt!: string;
}

export class PartNotices {
  @YesNo({ description: 'Some of it was read before the run began or after it ended.', example: false })
  outsideRun!: boolean;

  @YesNo({ description: 'Some of it was read later than it came, by the sender\'s clock.', example: false })
  inFuture!: boolean;
}

/** A part as the request that brought it is answered. */
export class SignalPartTaken extends SignalPartAnswer {
  @YesNo({ description: 'It came with this request; false: it was here already.', example: true })
  isNew!: boolean;

  @Part({ description: 'What is odd about it, though it was taken.', of: () => PartNotices, example: { outsideRun: false, inFuture: false } })
  notices!: PartNotices;
}
