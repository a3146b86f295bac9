import type { MigrationInterface, QueryRunner } from 'typeorm';

/**
 * Indexes that only find. They hold every version, so that what was known at an earlier instant is found as fast as what is
 * known now; only uniqueness is about open versions alone. Most take the place of one that held those alone.
 */
const FINDING: Readonly<Record<string, string>> = {
  ix_certificate_link_coil_id: 'certificate_link (coil_id)',
  ix_certificate_transcription_certificate_id: 'certificate_transcription (certificate_id)',
  ix_certificate_transcription_coils: 'certificate_transcription using gin (coil_numbers)',
  ix_certificate_transcription_heats: 'certificate_transcription using gin (heat_numbers)',
  ix_coil_certificate_id: 'coil (certificate_id)',
  ix_coil_heat_id: 'coil (heat_id)',
  ix_coil_order_id: 'coil (order_id)',
  ix_coil_near_number: 'coil (near_number_key(number))',
  ix_coil_receipt_coil_id: 'coil_receipt (coil_id)',
  ix_coil_segment_coil_id: 'coil_segment (coil_id)',
  ix_coil_segment_span: 'coil_segment using gist (string_id, span)',
  ix_counter_period_string_id: 'counter_period (string_id)',
  ix_counter_reading_at: 'counter_reading (string_id, counter, observed_at)',
  ix_cut_out_span: 'cut_out using gist (string_id, span)',
  ix_deviation_permit_coil_id: 'deviation_permit (coil_id)',
  ix_document_certificate_id: 'document (certificate_id)',
  ix_document_coil_id: 'document (coil_id)',
  ix_document_file_sha256: 'document (file_sha256)',
  ix_hang_off_string_id: 'hang_off (string_id)',
  ix_heat_near_number: 'heat (near_number_key(number))',
  ix_incoming_check_coil_id: 'incoming_check (coil_id)',
  ix_inspection_span: 'inspection using gist (string_id, span)',
  ix_line_setup_string_id: 'line_setup (string_id)',
  ix_nonconformance_coil_ids: 'nonconformance using gin (coil_ids)',
  ix_nonconformance_extent: 'nonconformance using gist (extent)',
  ix_rejoin_string_id: 'rejoin (string_id)',
  ix_shoe_tie_string_id: 'shoe_tie (string_id)',
  ix_splice_span: 'splice using gist (string_id, span)',
  ix_strip_order_specification_id: 'strip_order (specification_id)',
  ix_survey_well_id: 'survey (well_id)',
};

/**
 * What numbers that are easily taken for one another have in common, as `likeNumber` of the strip library tells them: capitals,
 * letters as the digits they look like, no separators and no zeros. It finds; the library judges.
 */
const NEAR_NUMBER_KEY = String.raw`
create function near_number_key(number text) returns text language sql immutable strict parallel safe
return regexp_replace(
  translate(upper(normalize(number, NFKC)), 'OILSBZ', '011582'),
  '[-\u00ad\u058a\u05be\u1400\u1806\u2010-\u2015\u2043\u207b\u208b\u2212\u2e3a\u2e3b\ufe58\ufe63\uff0d/\\\u2044\u2215\uff0f_\s0]+', '', 'g')`;

/** The past of a record is found through indexes, and numbers nearly the same through a key of their own. */
export class FindingThePast1764061200006 implements MigrationInterface {
  async up(runner: QueryRunner): Promise<void> {
    await runner.query(NEAR_NUMBER_KEY);
    for (const [name, where] of Object.entries(FINDING)) {
      await runner.query(`drop index if exists ${name}`);
      await runner.query(`create index ${name} on ${where}`);
    }
  }

  down(): Promise<void> {
    return Promise.reject(new Error('migrations only go forward'));
  }
}
