/** The four roles of people, and what a line computer's token is. */
export const ROLES = ['qc-inspector', 'materials-engineer', 'auditor', 'administrator'] as const;
export type Role = (typeof ROLES)[number];
export type Party = Role | 'device';

const ENGINEERING = ['materials-engineer'] as const;
const SHIFT = ['qc-inspector', 'materials-engineer'] as const;
const READERS = ['qc-inspector', 'materials-engineer', 'auditor', 'administrator'] as const;

/**
 * Who may do what. Every route names one of these permissions, or is open to all by name; anything else is refused.
 * Administrators manage people and devices and write no quality record; auditors read everything and write nothing;
 * a device only appends readings of its own counters, and signals placed by them.
 */
export const PERMISSIONS = {
  'records:read': READERS,
  'questions:ask': READERS,
  'own-account:read': READERS,
  'own-session:end': READERS,
  'own-password:change': READERS,
  'person:read': READERS,
  'person:write': ['administrator'],
  'device:read': ['administrator', 'auditor'],
  'device:write': ['administrator'],
  'qualification:write': ENGINEERING,
  'qualification-proof:write': ENGINEERING,
  'instrument:write': ENGINEERING,
  'channel:write': ENGINEERING,
  'weld-procedure:write': ENGINEERING,
  'gauge-study:write': ENGINEERING,
  'calibration:write': ENGINEERING,
  'well:write': ENGINEERING,
  'casing-string:write': ENGINEERING,
  'heat:write': ENGINEERING,
  'certificate:write': ENGINEERING,
  'coil:write': ENGINEERING,
  'survey:write': ENGINEERING,
  'strip-specification:write': ENGINEERING,
  'strip-order:write': ENGINEERING,
  'certificate-transcription:write': SHIFT,
  'certificate-link:write': ENGINEERING,
  'coil-receipt:write': SHIFT,
  'incoming-check:write': SHIFT,
  'file:write': SHIFT,
  'deviation-permit:write': ENGINEERING,
  'coil-decision:sign': ENGINEERING,
  'line-setup:write': SHIFT,
  'counter-period:write': SHIFT,
  'counter-reading:write': SHIFT,
  'counter-reading:append': ['qc-inspector', 'materials-engineer', 'device'],
  'signal:append': ['qc-inspector', 'materials-engineer', 'device'],
  'signal-upload:read': [...READERS, 'device'],
  'hang-off:write': SHIFT,
  'shoe-tie:write': SHIFT,
  'coil-segment:write': SHIFT,
  'splice:write': SHIFT,
  'weld:write': SHIFT,
  'test-sample:write': SHIFT,
  'destructive-test:write': SHIFT,
  'sampling-plan:write': ENGINEERING,
  'sampling-plan-assignment:write': ENGINEERING,
  'control-plan:write': ENGINEERING,
  'control-chart:write': ENGINEERING,
  'chart-reaction:write': SHIFT,
  'attendance:write': SHIFT,
  'evidence-waiver:write': ENGINEERING,
  'hold:write': SHIFT,
  'hold-lifting:write': SHIFT,
  'seam-event:write': SHIFT,
  'splice-step:write': SHIFT,
  'cut-out:write': SHIFT,
  'rejoin:write': SHIFT,
  'inspection:write': SHIFT,
  'indication-rule:write': ENGINEERING,
  'detection:write': SHIFT,
  'indication:write': SHIFT,
  'indication-evaluation:write': SHIFT,
  'inspection-run:write': SHIFT,
  'signal-mark:write': SHIFT,
  'reference-check:write': SHIFT,
  'repair:write': SHIFT,
  'examination:write': SHIFT,
  'nonconformance:write': SHIFT,
  'release:sign': SHIFT,
  'chart-limits:sign': ENGINEERING,
  'shift:write': SHIFT,
  'shift-event:write': SHIFT,
  'handover:write': SHIFT,
  'handover-acceptance:write': SHIFT,
} as const satisfies Readonly<Record<string, readonly Party[]>>;

export type Permission = keyof typeof PERMISSIONS;

/** True when one of `parties` may do what `permission` names. */
export function permits(permission: Permission, parties: readonly Party[]): boolean {
  const allowed: readonly Party[] = PERMISSIONS[permission];
  return parties.some((party) => allowed.includes(party));
}
