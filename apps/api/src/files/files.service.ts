import type { Readable } from 'node:stream';
import { Injectable } from '@nestjs/common';
import type { Actor } from '#libs/persistence';
import { Refused } from '../http/problem.js';
import { RecordDesk } from '../records/record-desk.js';
import type { StoredFileAnswer } from './document.dto.js';
import { DocumentsService } from './documents.service.js';
import { formatOf, FORMATS } from './media-type.js';
import { spool } from './spool.js';
import { StoredFiles } from './stored-files.service.js';

const MOST_BYTES = Math.max(...FORMATS.map(({ mostBytes }) => mostBytes));

/** Takes files in and gives them out. */
@Injectable()
export class FilesService {
  constructor(
    private readonly desk: RecordDesk,
    private readonly files: StoredFiles,
    private readonly documents: DocumentsService,
  ) {}

  /**
   * Keeps a file. Refuses with 413 when it is too large for its format, with 415 when its content is of none that is
   * taken or does not fit the ending of its name; nothing is left behind then.
   */
  async take(actor: Actor, body: Readable, name: string | null): Promise<StoredFileAnswer> {
    const file = await spool(body, MOST_BYTES);
    try {
      const format = await formatOf(file.opening, name);
      if ('fault' in format) throw wrongFormat(name, format.fault);
      if (file.sizeBytes > format.mostBytes) {
        throw new Refused(413, 'too-large', `A file of ${format.mediaType} has at most ${format.mostBytes} bytes here.`);
      }
      const isNew = await this.desk.transaction(actor, null, (tx) => this.files.keep(tx, file, format.mediaType));
      const { sha256, sizeBytes } = file;
      const attached = isNew ? [] : await this.documents.ofFiles([sha256], null);
      const attachedTo = attached.map(({ id, fileName, certificateId, coilId }) => ({ documentId: id, fileName, certificateId, coilId }));
      return { sha256, mediaType: format.mediaType, sizeBytes, isNew, attachedTo };
    } finally {
      await file.dispose();
    }
  }

  /** The bytes of a file and the ending its name would have; null when there is none with this content. */
  async read(sha256: string): Promise<{ bytes: AsyncIterable<Buffer>; sizeBytes: number; ending: string } | null> {
    const row = await this.files.find(sha256);
    if (row === null) return null;
    const ending = FORMATS.find(({ mediaType }) => mediaType === row.mediaType)?.endings[0] ?? '';
    return { bytes: this.files.read(row), sizeBytes: row.sizeBytes, ending };
  }
}

const wrongFormat = (name: string | null, fault: string): Refused =>
  new Refused(415, 'media-type', `This file is not taken: ${fault}.`, [{ field: 'body', value: name, limit: fault }]);
