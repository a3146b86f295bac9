import { createHash } from 'node:crypto';
import type { DataSource, EntityManager } from 'typeorm';
import { sqlRefusal } from '#libs/persistence';

/** Columns of a row by name, as PostgreSQL reads them from text; undefined leaves a column out. */
export type Columns = Readonly<Record<string, string | null | undefined>>;

/** When the rows here became known. */
export const KNOWN_FROM = '2026-03-02T09:00:00.000001Z';

const OBSERVED_AT = '2026-03-02T08:15:00Z';
const GIVEN = '{"from": {"footageMm": 212000}, "to": null}';

/** The content of the file that rows refer to, and its name: the SHA-256 of it. */
const FILE_TEXT = '{}';
export const FILE_SHA256 = '44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a';

/** The columns of a decision on an evaluation that says no more than its verdict. */
export function evaluated(verdict: string): Columns {
  const evaluation = JSON.stringify({ verdict });
  return { verdict, evaluation, evaluation_sha256: createHash('sha256').update(evaluation, 'utf8').digest('hex') };
}

/** The columns of a release on evidence that says no more than the worst of it. */
export function evidenced(worst: string): Columns {
  const evidence = JSON.stringify({ worst });
  return { worst, evidence, evidence_sha256: createHash('sha256').update(evidence, 'utf8').digest('hex') };
}

/** The columns of limits whose study says no more than these, with `changes` in both. */
export function studied(changes: Readonly<Record<string, unknown>> = {}): Columns {
  const said = {
    chart: { id: idOf('control_chart'), version: 1 }, span: { fromMm: 0, toMm: 212_000 } as { fromMm: number; toMm: number } | null, limits: { chart: 'ewma', mean: 5.02, sigma: 0.03 },
    plan: { chart: 'ewma', rules: [] }, warnings: [{}], ...changes,
  };
  const study = JSON.stringify(said);
  const { chart, span } = said;
  return {
    chart_id: chart.id, chart_version: String(chart.version), from_mm: span === null ? null : String(span.fromMm), to_mm: span === null ? null : String(span.toMm),
    limits: JSON.stringify(said.limits), warnings: JSON.stringify(said.warnings), study, study_sha256: createHash('sha256').update(study, 'utf8').digest('hex'),
  };
}

/** The id of the row that stands for a table; fixed, since every test has a database of its own. */
export function idOf(table: string, nth = 1): string {
  const place = Object.keys(CONTENT).indexOf(table);
  if (place < 0) throw new Error(`${table} has no row here: describe one in CONTENT`);
  return `0197a2c4-5b00-7d31-9c11-${String(place + 1).padStart(8, '0')}${String(nth).padStart(4, '0')}`;
}

/** Who accepts a handover is another person than who did everything else here. */
const ACCEPTS = '0197a2c4-5b00-7d31-9c11-3a5d0e7faccc';

const placed = (span: string): Columns => ({
  string_id: idOf('casing_string'), given: GIVEN, span, from_u_mm: '12.5', to_u_mm: '12.5', predicted: 'false', rests_on: '[]',
});

/** The content of one record for each table, in the order their references need; every column that may has a value. */
const CONTENT: Readonly<Record<string, () => Columns>> = {
  person: () => ({ name: 'Ilka Brandt', sign_in_name: 'ilka-of-the-rows', roles: '{materials-engineer}', active: 'true' }),
  well: () => ({ name: 'Lindmoor Geothermal 2', datum: 'Guide frame', time_zone: 'Etc/GMT-1', note: 'Deviated' }),
  casing_string: () => ({
    well_id: idOf('well'), name: 'Lindmoor 2 main string', footage_limit_mm: '4000000', outside_diameter_mm: '127.0',
    wall_thickness_mm: '5.00', master_counter: 'main', length_ratio: '0.985', length_ratio_u: '0.004',
    diameter_ratio: '1.05', diameter_ratio_u: '0.01', note: 'One pipe',
  }),
  device: () => ({
    name: 'Line computer', string_id: idOf('casing_string'), counters: '{main}', expires_at: '2026-06-30T22:00:00Z', active: 'true',
  }),
  qualification: () => ({
    person_id: idOf('person'), number: 'WO-1', standard: 'ISO 14732', subject: 'welding', methods: '{521}', level: '2', scope: '[]',
    starts_on: '2025-06-02', expires_on: '2028-06-01', confirm_every_months: '6', late_confirmation: 'revives', vision_every_months: '12',
    authorisation_needed: 'false', examiner: 'Examining body', note: 'Copy kept',
  }),
  qualification_proof: () => ({
    person_id: idOf('person'), qualification_id: idOf('qualification'), proof: 'authorisation', on_day: '2025-07-01', until_day: '2026-06-30',
    given_by: 'Employer', note: 'Signed',
  }),
  instrument: () => ({
    number: 'MI-07', kind: 'gauge', name: 'Micrometer', measures: '{thickness}', unit: 'mm', range_min: '0', range_max: '25', resolution: '0.001', note: 'Boxed',
  }),
  gauge_study: () => ({
    instrument_id: idOf('instrument'), characteristic: 'wall thickness', unit: 'mm', tolerance: '0.65', readings: '[]', note: 'One morning',
  }),
  weld_procedure: () => ({
    number: 'WP-7', revision: '1', title: 'Bias splice', purpose: 'splice', process: '135', effective_from: '2025-06-01', ranges: '[]', lists: '[]',
    test: '{}', heat_treatment: 'None', note: 'Agreed',
  }),
  calibration: () => ({
    instrument_id: idOf('instrument'), certificate_number: 'CAL-1', laboratory: 'Measuring room', as_found: '[]', as_left: '[]',
    decision: 'simple-acceptance', guard_factor: '1', due_on: '2027-01-31', note: 'Dry',
  }),
  strip_specification: () => ({
    number: 'STS-12', revision: '1', title: 'Slit strip', effective_from: '2025-11-01', grade: 'S420MC', document_type: '3.1', requirements: '[]',
    own_tables: '[]', rounding: 'absolute', decision: 'simple-acceptance', guard_factor: '1', edge: 'slit', surface: 'pickled',
    test_frequency: 'One a heat', retest_rule: 'Two more', note: 'Agreed',
  }),
  strip_order: () => ({
    number: 'PO-1', mill: 'Steelworks', ordered_on: '2025-11-02', specification_id: idOf('strip_specification'), thickness_mm: '5.00',
    width_mm: '383.0', note: 'First',
  }),
  heat: () => ({ number: 'H40711', steelmaker: 'Steelworks', grade: 'S420MC', cast_on: '2025-11-03' }),
  certificate: () => ({ number: 'C-118', issuer: 'Steelworks', document_type: '3.1', issued_on: '2025-11-20', note: 'Two pages' }),
  coil: () => ({
    number: 'LM-01', heat_id: idOf('heat'), certificate_id: idOf('certificate'), width_mm: '400.0', thickness_mm: '5.00',
    mass_kg: '7850', length_mm: '500000', crop_mm: '800', rest_mm: '0', note: 'Dry', order_id: idOf('strip_order'), master_coil: 'M-5117',
  }),
  certificate_transcription: () => ({
    certificate_id: idOf('certificate'), keying: '1', order_number: 'PO-1', specification: 'STS-12 rev 1', packed_lines: '{}', coil_numbers: '{LM1}',
    heat_numbers: '{H40711}', note: 'Clear', file_sha256: FILE_SHA256, file_line: '2',
  }),
  certificate_link: () => ({ certificate_id: idOf('certificate'), coil_id: idOf('coil'), role: 'mill', named_as: 'M-5117', note: 'Master' }),
  coil_receipt: () => ({
    coil_id: idOf('coil'), occasion: 'back-from-line', tag_number: 'LM-01', tag_heat_number: 'H40711', weighed_mass_kg: '7846', weighed_mass_u_kg: '5',
    bore_mm: '508', outer_diameter_mm: '1274', diameter_u_mm: '3', rest_length_mm: '48000', condition: 'damaged', damage: 'Edge', place: 'Bay 2', note: 'Dry',
  }),
  incoming_check: () => ({
    coil_id: idOf('coil'), characteristic: 'thickness', unit: 'mm', readings: '[]', instrument: 'MI-07', instrument_id: idOf('instrument'), expanded_u: '0.01', base_mm: '2000',
    method: 'Micrometer', note: 'Warm',
  }),
  deviation_permit: () => ({
    coil_id: idOf('coil'), for_string_id: idOf('casing_string'), departure: 'Certificate asked for', limit_text: 'This string',
    valid_until: '2027-01-01T00:00:00Z', note: 'Once',
  }),
  coil_decision: () => ({
    coil_id: idOf('coil'), sequence: '1', decision: 'accept-under-concession', specification_id: idOf('strip_specification'), ...evaluated('not-reported'),
    statement: 'I accept', grounds: 'Measured here', concession_limit: 'Above 400 m', signer_name: 'Ilka Brandt', signer_roles: '{materials-engineer}', signed_by: 'secret entered again',
  }),
  document: () => ({
    file_sha256: FILE_SHA256, about: 'certificate', file_name: 'C-118.pdf', certificate_id: idOf('certificate'), coil_id: idOf('coil'),
    is_original: 'true', page_count: '2', language: 'en', note: 'Scanned',
  }),
  line_setup: () => ({ string_id: idOf('casing_string'), stations: '[]', viewing: 'down-the-hole', note: 'First' }),
  counter_period: () => ({
    string_id: idOf('casing_string'), counter: 'main', during: '[2026-03-01T00:00:00Z,2026-03-05T00:00:00Z)',
    start_reading: '0', previous_end_reading: null, start_given_mm: '0', start_footage_mm: '0', scale_mm_per_count: '1.0000',
    scale_relative_u: '0.0005', wheel: 'W-2', note: 'Taped',
  }),
  counter_reading: () => ({ string_id: idOf('casing_string'), counter: 'main', reading: '118500', note: 'Stopped' }),
  hang_off: () => ({ ...placed('[4000,4001)'), md_mm: '1200', md_u_mm: '2', note: 'Wedges set' }),
  shoe_tie: () => ({
    string_id: idOf('casing_string'), given: GIVEN, weld_footage_mm: '212000', weld_u_mm: '12.5', rests_on: '[]',
    shoe_md_mm: '150000', shoe_u_mm: '80', method: 'Wireline tag', note: 'Twice',
  }),
  survey: () => ({ well_id: idOf('well'), stations: '[]', tie_in: '{}', tool: 'Gyro', note: 'Run 1' }),
  coil_segment: () => ({
    ...placed('[100000,200000)'), coil_id: idOf('coil'), strip_span: '[800,101800)', runs: 'head-first', note: 'First coil',
  }),
  splice: () => ({
    ...placed('[200000,200600)'), number: 'S-3', leaving_coil_id: idOf('coil'), entering_coil_id: idOf('coil'), angle_deg: '45',
    hand: 'left', confirmed: 'true', verdict: 'in-doubt', doubt: 'Film unclear', pipe_length_mm: '600', note: 'Retaken',
  }),
  cut_out: () => ({ ...placed('[300000,301200)'), cause: 'Tried cut', piece: 'P-1', note: 'Kept' }),
  rejoin: () => ({
    string_id: idOf('casing_string'), cut_out_id: idOf('cut_out'), procedure: 'WP-7', verdict: 'accepted', examination: 'UT', note: 'Good',
  }),
  splice_step: () => ({
    string_id: idOf('casing_string'), splice_id: idOf('splice'), stage: 'station-sighting', outcome: 'accepted', station: 'UT', readings: '[]', examinations: '[]',
    coupons: '{C1}', chart_sha256: FILE_SHA256, photo_sha256s: '{}', note: 'Seen',
  }),
  weld: () => ({
    string_id: idOf('casing_string'), splice_id: idOf('splice'), weld_procedure_id: idOf('weld_procedure'), readings: '[]', chosen: '[]',
    filler_batch: 'FB-1', gas_batch: 'GB-1', note: 'Dry',
  }),
  seam_event: () => ({
    ...placed('[212700,212701)'), event: 'stop', weld_procedure_id: idOf('weld_procedure'), readings: '[]', cause: 'Strip caught', note: 'Cleared',
  }),
  test_sample: () => ({
    string_id: idOf('casing_string'), number: 'TS-14', coil_id: idOf('coil'), coil_end: 'head', orientation: 'full-section', custody: '[]', note: 'Marked',
  }),
  destructive_test: () => ({
    string_id: idOf('casing_string'), test_sample_id: idOf('test_sample'), kind: 'flattening', method: 'ISO 8492', laboratory: 'Site laboratory',
    readings: '[]', outcome: 'void', void_reason: 'Saw cut', flattening: '{}', note: 'Repeated',
  }),
  sampling_plan: () => ({
    number: 'SP-1', revision: '1', title: 'Destructive tests', effective_from: '2025-06-01', tests: '[{}]', note: 'Agreed',
  }),
  sampling_plan_assignment: () => ({
    string_id: idOf('casing_string'), sampling_plan_id: idOf('sampling_plan'), from_day: '2026-03-01', note: 'Agreed',
  }),
  inspection: () => ({
    ...placed('[212000,212600)'), kind: 'dimensional', characteristic: 'wall thickness', value: '4.97', unit: 'mm',
    limit_min: '4.75', limit_max: '5.40', requirement: 'Plan 4.3', surface: 'formed-outside', clock_hours: '3.5',
    viewing: 'down-the-hole', instrument_id: idOf('instrument'), verdict: 'accepted', note: 'Dry',
  }),
  nonconformance: () => ({
    number: '1', title: 'Thin wall', severity: 'major', origin: 'line', string_id: idOf('casing_string'), given: '[]',
    extent: '{[212000,212600)}', rests_on: '[]', coil_extents: '[]', coil_ids: '{}', extent_basis: 'measured', requirement: '{}',
    found: '{}', containment: '{}', stage: 'open', disposition: '{"kind": "use-as-is-under-concession"}', note: 'Seen',
  }),
  shift: () => ({ string_id: idOf('casing_string'), name: 'day 2026-03-02', until: '2026-03-02T17:00:00Z', crew: '[{}]', weather: 'Rain', note: 'Heated' }),
  shift_event: () => ({ string_id: idOf('casing_string'), shift_id: idOf('shift'), category: 'visitor', text: 'Shown round', about: '{}' }),
  handover: () => ({ string_id: idOf('casing_string'), shift_id: idOf('shift'), items: '[]', note: 'Walked' }),
  handover_acceptance: () => ({
    string_id: idOf('casing_string'), done_by: ACCEPTS, handover_id: idOf('handover'), handover_version: '1', items: '[]', note: 'Read out',
  }),
  repair: () => ({
    ...placed('[212100,212200)'), method: 'weld-repair', found: 'Undercut', splice_id: idOf('splice'), inspection_id: idOf('inspection'),
    nonconformance_id: idOf('nonconformance'), depth_removed_mm: '0.35', remaining_wall_mm: '4.62', wall_limit_mm: '4.50', instrument_id: idOf('instrument'),
    weld_procedure_id: idOf('weld_procedure'), readings: '[]', chosen: '[]', filler_batch: 'FB-1', photo_sha256s: '{}', note: 'Blended',
  }),
  examination: () => ({
    ...placed('[212100,212200)'), method: 'UT', technique: 'UT-04 rev 2', reflector: 'notch-outside', reflector_size_mm: '0.5', outcome: 'accepted',
    seen: 'Nothing', repair_id: idOf('repair'), instrument_id: idOf('instrument'), photo_sha256s: '{}', note: 'Dry',
    stands_in_for: '{}',
  }),
  channel: () => ({
    string_id: idOf('casing_string'), name: 'ET-seam-1', measures: 'eddy-current-amplitude', unit: '%', method: 'ET', technique: 'ET-02 rev 1', station: 'eddy head',
    zone: 'seam', probe: 'P-14', clock_from_deg: '345', clock_to_deg: '15', sampling: '{"per": "length", "everyMm": "1.0"}', threshold: '{}', required: 'true',
    missing_values: '{-999}', saturates_at: '{}', plausible: '{}', stuck_after: '400', noise_floor_least: '2', speed_window: '{}', splice_margin_mm: '500',
    repeats: 'best', check_every_minutes: '240', check_grace_minutes: '15', check_rule_source: 'Plan 5.1', note: 'New cable',
  }),
  inspection_run: () => ({
    string_id: idOf('casing_string'), ended_at: '2026-03-02T14:00:00Z', counter: 'main', channel_ids: `{${idOf('channel')}}`, settings: '[]',
    standard_id: idOf('instrument'), end_reason: 'End of shift', note: 'Dry',
  }),
  signal_mark: () => ({
    ...placed('[212100,212200)'), run_id: idOf('inspection_run'), channel_ids: `{${idOf('channel')}}`, effect: 'not-valid', cause: 'probe-lifted', note: 'Lifted',
  }),
  reference_check: () => ({
    ...placed('[212100,212101)'), run_id: idOf('inspection_run'), standard_id: idOf('instrument'), mode: 'dynamic', occasion: 'start',
    results: `[{"channelId": "${idOf('channel')}"}]`, void_reason: 'Standard was dirty', action: 'Cleaned', note: 'Twice',
  }),
  indication_rule: () => ({
    string_id: idOf('casing_string'), name: 'Seam', revision: '1', channels: `[{"channelId": "${idOf('channel')}"}]`, minimum_length_mm: '0', combining_mm: '10',
    bridged_gap_mm: '0', joint_mm: '0', excludes: '{splice}', splice_margin_mm: '50', repeats: 'all', requirement: 'Plan 6.1', note: 'Agreed',
  }),
  detection: () => ({
    string_id: idOf('casing_string'), rule_id: idOf('indication_rule'), rule_version: '1', from_mm: '0', to_mm: '214000', as_known_at: OBSERVED_AT, saw: '[]',
    not_placed: '[]', found: '[]', found_count: '0', opened_count: '0',
  }),
  indication: () => ({
    ...placed('[212100,212200)'), detection_id: idOf('detection'), channel_ids: `{${idOf('channel')}}`, method: 'ET', peak: '78.4', peak_unit: '%', peak_is_bound: 'false',
    clock_deg: '90', surface: 'formed-inside', imperfection: 'penetrator', note: 'Short',
  }),
  indication_evaluation: () => ({
    string_id: idOf('casing_string'), indication_id: idOf('indication'), relevant: 'false', cause: 'other', cause_words: 'Weld bead', method: 'UT', technique: 'UT-07 rev 1',
    instrument_id: idOf('instrument'), measured_depth_mm: '0.30', measured_length_mm: '38', remaining_wall_mm: '4.67', limit_text: 'Plan 6.2', limit_min_wall_mm: '4.50',
    limit_max_depth_mm: '0.50', verdict: 'hold', level: '2', repair_id: idOf('repair'), cut_out_id: idOf('cut_out'), examination_id: idOf('examination'), time_left: '{}',
    note: 'Read out',
  }),
  control_plan: () => ({
    string_id: idOf('casing_string'), document: 'CP-3', revision: '2', from_mm: '0', note: 'Agreed',
    items: `[{"code": "N-1", "demands": "channel-inspected", "channelId": "${idOf('channel')}"}, {"code": "P-1", "demands": "point", "channelId": null}]`,
  }),
  attendance: () => ({ ...placed('[212100,212200)'), item_code: 'P-1', outcome: 'accepted', attended_by: '[{}]', note: 'Seen' }),
  evidence_waiver: () => ({
    ...placed('[212100,212200)'), item_code: 'N-1', basis: 'concession', agreed_by: 'Customer', agreement: 'Letter of 1 March', grounds: 'Looked at again',
    nonconformance_id: idOf('nonconformance'),
  }),
  hold: () => ({
    string_id: idOf('casing_string'), cause: 'Thin wall', given: `[${GIVEN}]`, extent: '{[212000,212001)}', rests_on: '[]', coil_ids: `{${idOf('coil')}}`,
    splice_ids: `{${idOf('splice')}}`,
  }),
  hold_lifting: () => ({ string_id: idOf('casing_string'), hold_id: idOf('hold'), grounds: 'Extent measured', evidence: 'NC-0001', own_hold_because: 'Alone on shift' }),
  control_chart: () => ({
    string_id: idOf('casing_string'), code: 'WT-1', title: 'Wall by channel', characteristic: `{"of": "channel", "channelIds": ["${idOf('channel')}"]}`, unit: 'mm',
    subgroup: '{"size": 1}', leave_out: '{}', chart: 'ewma', rules: '{}', lambda: '0.2', width: '2.7', specification: '{}', reaction: '{}', note: 'Agreed',
  }),
  chart_limits: () => ({
    string_id: idOf('casing_string'), ...studied(), number: '1', applies_from_mm: '212000', removed: '[{}]', phi: '0.62', points: '24', coils: '3',
    warnings_accepted_because: 'Looked at the residuals too', grounds: 'Stable for five coils', statement: 'I approve', signer_name: 'Ilka Brandt', signer_roles: '{materials-engineer}',
    signed_by: 'secret entered again',
  }),
  chart_reaction: () => ({
    string_id: idOf('casing_string'), chart_id: idOf('control_chart'), limits_id: idOf('chart_limits'), answers: '[{"fromMm": 212000, "toMm": 212500}]', reading: 'real', repeated_value: '4.71',
    repeated_with_instrument_id: idOf('instrument'), watch_from_mm: '211000', watch_to_mm: '212500', causes_looked_at: '{Rolls}', cause: 'Roll had moved', action: 'nonconformance', did: 'Roll set',
    nonconformance_id: idOf('nonconformance'), note: 'At night',
  }),
  release: () => ({
    string_id: idOf('casing_string'), from_mm: '0', to_mm: '212000', ...evidenced('provisional'), exceptions: '[{}]', own_work: 'true', own_work_because: 'Alone on shift',
    hang_off_mm: '180000', grounds: 'All items looked at', statement: 'I release', signer_name: 'Ilka Brandt', signer_roles: '{materials-engineer}', signed_by: 'secret entered again',
  }),
};

/** The tables described here, in the order in which their rows can be inserted. */
export const DESCRIBED: readonly string[] = Object.keys(CONTENT);

/** A whole first version for a table, with `changes` in it. */
export function firstVersion(table: string, changes: Columns = {}): Columns {
  return {
    id: idOf(table), version: '1', known_from: KNOWN_FROM, known_until: null, entered_at: KNOWN_FROM, observed_at: OBSERVED_AT, state: 'active',
    done_by: idOf('person'), keyed_by: idOf('person'), device_id: idOf('device'), source: 'keyed', reason: 'As read', marks: '[]',
    request_id: 'rows', digest: 'd', ...CONTENT[table]?.(), ...changes,
  };
}

/** Inserts one row, its columns as text. */
export async function insertRow(manager: EntityManager, table: string, columns: Columns): Promise<void> {
  const given = Object.entries(columns).filter(([, value]) => value !== undefined);
  const places = given.map((_, index) => `$${index + 1}`);
  await manager.query(
    `insert into ${table} (${given.map(([name]) => name).join(', ')}) values (${places.join(', ')})`,
    given.map(([, value]) => value),
  );
}

/** Names the actor of the rows here, and a request, for the rest of the transaction. */
export async function asActor(manager: EntityManager): Promise<void> {
  await manager.query("select set_config('app.actor', $1, true), set_config('app.request', 'rows', true)", [idOf('person')]);
}

/** Inserts the file that some rows refer to, in one part. */
export async function standFile(manager: EntityManager): Promise<void> {
  await insertRow(manager, 'stored_file', {
    sha256: FILE_SHA256, media_type: 'text/csv', size_bytes: String(FILE_TEXT.length), part_count: '1', stored_at: KNOWN_FROM, stored_by: idOf('person'),
  });
  await insertRow(manager, 'stored_file_part', { sha256: FILE_SHA256, part_no: '0', bytes: FILE_TEXT });
}

/** Inserts the first version for a table, after what it alone refers to. */
export async function standRow(manager: EntityManager, table: string, columns: Columns = firstVersion(table)): Promise<void> {
  if (table === 'handover_acceptance') await insertRow(manager, 'person', firstVersion('person', { id: ACCEPTS, name: 'Rasmus Feld', sign_in_name: 'rasmus-of-the-rows' }));
  await insertRow(manager, table, columns);
}

/** Inserts and commits the first version of each of `tables`, after the file that some of them refer to. */
export async function standRows(dataSource: DataSource, tables: readonly string[]): Promise<void> {
  await dataSource.transaction(async (manager) => {
    await asActor(manager);
    await standFile(manager);
    for (const table of tables) await standRow(manager, table);
  });
}

/** Thrown to undo what a trial did. */
class Undone extends Error {}

/** Runs `work` as the actor of the rows and undoes it. Gives the SQLSTATE it was refused with, or `taken`. */
export async function trial(dataSource: DataSource, work: (manager: EntityManager) => Promise<unknown>): Promise<string> {
  try {
    await dataSource.transaction(async (manager) => {
      await asActor(manager);
      await work(manager);
      // Foreign keys and other deferred checks speak now or never.
      await manager.query('set constraints all immediate');
      throw new Undone();
    });
  } catch (error) {
    if (error instanceof Undone) return 'taken';
    const refusal = sqlRefusal(error);
    if (refusal !== null) return refusal.sqlState;
    throw error;
  }
  return 'taken';
}

/** The tables of record versions that the database has: those whose rows have a `known_until`. */
export async function recordTables(dataSource: DataSource): Promise<string[]> {
  const rows: { table_name: string }[] = await dataSource.query(
    `select table_name from information_schema.columns
      where table_schema = 'public' and column_name = 'known_until' order by table_name`,
  );
  return rows.map(({ table_name: name }) => name);
}
