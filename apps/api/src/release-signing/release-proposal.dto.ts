import { EVIDENCE_STATES, type EvidenceState } from '#libs/evidence';
import { MetresAnswer } from '../destructive-coverage/destructive-coverage.dto.js';
import { EvidenceStateMetres, STATES_WORDS } from '../evidence/evidence.dto.js';
import { Anything, Choice, Computed, Part, Parts, Sha256, Text, Texts } from '../http/fields.js';
import { RecordLink } from '../trace/trace.dto.js';

/** An item that is not shown on some of the pipe. */
export class OpenForReleaseAnswer {
  @Text({ description: 'Its code; "hold" for holds.', example: 'UT-1', max: 20 })
  code!: string;

  @Choice({ description: STATES_WORDS, example: 'provisional', of: EVIDENCE_STATES })
  state!: EvidenceState;

  @Part({ description: 'Where.', of: () => MetresAnswer })
  metres!: MetresAnswer;

  @Texts({ description: 'What records say of it there.', example: ['inspected after a reference check that passed; none was made since'], max: 20, each: 1000 })
  because!: string[];
}

/** What a release of some pipe would rest on. */
export class ReleaseProposalAnswer {
  @Part({ description: 'The string.', of: () => RecordLink })
  string!: RecordLink;

  @Computed({ description: 'Footage from which on, mm.', example: 0 })
  fromMm!: number;

  @Computed({ description: 'Footage up to which, mm.', example: 12_000 })
  toMm!: number;

  @Part({ description: 'Its pipe: made, and not cut out.', of: () => MetresAnswer })
  pipe!: MetresAnswer;

  @Parts({ description: 'The verdict without any release, worst first.', of: () => EvidenceStateMetres, max: EVIDENCE_STATES.length })
  states!: EvidenceStateMetres[];

  @Text({ description: 'Why no release can be given; null when one can.', example: null, max: 2000, optional: true })
  notOpenBecause!: string | null;

  @Parts({ description: 'What failed or is held: no reason makes up for it.', of: () => OpenForReleaseAnswer, max: 200 })
  against!: OpenForReleaseAnswer[];

  @Parts({ description: 'What is missing, suspect or provisional: a release names each with its reason.', of: () => OpenForReleaseAnswer, max: 200 })
  toExcept!: OpenForReleaseAnswer[];

  @Parts({ description: 'Work of who asks that the evidence rests on, the first 100: releasing it needs a reason.', of: () => RecordLink, max: 100 })
  ownWork!: RecordLink[];

  @Computed({ description: 'How much of it there is.', example: 0 })
  ownWorkRecords!: number;

  @Text({ description: 'The sentence that the signature would say.', example: 'I have examined the evidence of footage 0.000 to 12.000 m of Lindmoor 2 main string and release this pipe for the well.', max: 1000 })
  statement!: string;

  @Sha256({ description: 'The digest of the evidence: it is sent back with the signature.', example: 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855' })
  evidenceSha256!: string;

  @Anything({ description: 'The evidence that would be frozen with the signature.', example: {} })
  evidence!: unknown;

  @Texts({ description: 'What to keep in mind.', example: ['Evidence that is missing is not a clean result.'], max: 20, each: 1000 })
  cautions!: string[];
}
