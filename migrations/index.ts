import { Ground1764061200000 } from './1764061200000-ground.js';
import { People1764061200001 } from './1764061200001-people.js';
import { StripAndStrings1764061200002 } from './1764061200002-strip-and-strings.js';
import { Line1764061200003 } from './1764061200003-line.js';
import { Pipe1764061200004 } from './1764061200004-pipe.js';
import { IncomingStrip1764061200005 } from './1764061200005-incoming-strip.js';
import { FindingThePast1764061200006 } from './1764061200006-finding-the-past.js';
import { EndedPermits1764061200007 } from './1764061200007-ended-permits.js';
import { PeopleAndInstruments1764061200008 } from './1764061200008-people-and-instruments.js';
import { Welds1764061200009 } from './1764061200009-welds.js';
import { DestructiveTests1764061200010 } from './1764061200010-destructive-tests.js';
import { SeamEvents1764061200011 } from './1764061200011-seam-events.js';
import { GaugeStudies1764061200012 } from './1764061200012-gauge-studies.js';
import { SpliceSteps1764061200013 } from './1764061200013-splice-steps.js';
import { Repairs1764061200014 } from './1764061200014-repairs.js';
import { Shifts1764061200015 } from './1764061200015-shifts.js';
import { SamplingPlans1764061200016 } from './1764061200016-sampling-plans.js';
import { KeptChains1764061200017 } from './1764061200017-kept-chains.js';
import { Inspection1764061200018 } from './1764061200018-inspection.js';
import { Signals1764061200019 } from './1764061200019-signals.js';
import { Indications1764061200020 } from './1764061200020-indications.js';
import { ControlPlansAndHolds1764061200021 } from './1764061200021-control-plans-and-holds.js';
import { StringNews1764061200022 } from './1764061200022-string-news.js';
import { Releases1764061200024 } from './1764061200024-releases.js';
import { ControlCharts1764061200025 } from './1764061200025-control-charts.js';
import { ChartLimits1764061200026 } from './1764061200026-chart-limits.js';
import { ChartReactions1764061200027 } from './1764061200027-chart-reactions.js';
import { ChartsUnderLimits1764061200028 } from './1764061200028-charts-under-limits.js';

/** All migrations, oldest first. A new one is added at the end and never changed once it has been applied anywhere. */
export const MIGRATIONS = [
  Ground1764061200000,
  People1764061200001,
  StripAndStrings1764061200002,
  Line1764061200003,
  Pipe1764061200004,
  IncomingStrip1764061200005,
  FindingThePast1764061200006,
  EndedPermits1764061200007,
  PeopleAndInstruments1764061200008,
  Welds1764061200009,
  DestructiveTests1764061200010,
  SeamEvents1764061200011,
  GaugeStudies1764061200012,
  SpliceSteps1764061200013,
  Repairs1764061200014,
  Shifts1764061200015,
  SamplingPlans1764061200016,
  KeptChains1764061200017,
  Inspection1764061200018,
  Signals1764061200019,
  Indications1764061200020,
  ControlPlansAndHolds1764061200021,
  StringNews1764061200022,
  Releases1764061200024,
  ControlCharts1764061200025,
  ChartLimits1764061200026,
  ChartReactions1764061200027,
  ChartsUnderLimits1764061200028,
];
