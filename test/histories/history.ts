/** A short history of work on one string. Minutes count from the beginning of 2026, in UTC; days are days of the site's local time. */
export interface History {
  /** Minutes that the site's local time is ahead of UTC. */
  readonly offsetMinutes: number;
  readonly calibrations: readonly HistoryCalibration[];
  readonly qualifications: readonly HistoryQualification[];
  readonly work: readonly HistoryWork[];
}

/** A calibration of a gauge; no two of one gauge at one minute. */
export interface HistoryCalibration {
  readonly name: string;
  readonly gauge: string;
  /** The gauge that served as reference standard; null when none of the history did. */
  readonly against: string | null;
  readonly minute: number;
  readonly found: 'in' | 'out' | 'not-taken';
  /** `as-found`: nothing was adjusted; never beside `not-taken`. */
  readonly left: 'in' | 'out' | 'as-found';
  /** Entered, and withdrawn afterwards. */
  readonly isVoid: boolean;
}

/** A qualification of a person for one process and a range of thickness. Both days count whole. */
export interface HistoryQualification {
  readonly name: string;
  readonly person: string;
  readonly process: string;
  readonly startsOn: string;
  readonly expiresOn: string;
  /** From this day on it is withdrawn; null when it was not. */
  readonly withdrawnOn: string | null;
  /** Hundredths of a mm, both ends included; null when the thickness is not limited. */
  readonly thickness: { readonly from: number; readonly to: number } | null;
}

/** Something done on the pipe. */
export interface HistoryWork {
  readonly name: string;
  readonly kind: 'inspection' | 'examination' | 'weld' | 'repair' | 'seam-event' | 'splice-step';
  readonly minute: number;
  readonly person: string;
  /** The gauges that its readings were taken with. */
  readonly gauges: readonly string[];
  /** Of welds, repairs (all of them welded) and seam events; null for other work, which asks for no welder. */
  readonly process: string | null;
  /** Of the strip, hundredths of a mm; null when it was not stated. */
  readonly thickness: number | null;
  readonly procedure: string | null;
  readonly fillerBatch: string | null;
  /** Footage, half-open, mm. */
  readonly fromMm: number;
  readonly toMm: number;
  /** Entered, and withdrawn afterwards: it concerns nobody. */
  readonly isVoid: boolean;
}

export type HistoryQuestion = { readonly by: 'instrument' | 'calibration' | 'qualification' | 'weldProcedure' | 'fillerBatch' | 'person'; readonly name: string };
