import { formatInstant, formatInterval, formatMetres, formatUncertainty } from './instants-and-lengths.js';
import type {
  Amendment, ExtentBasis, FoundValue, NonconformanceExtent, NonconformanceIdentity, NonconformanceReportData, WallExtent,
} from './nonconformance-data.js';
import type { PageFrame } from './page-frame.js';
import { drawLegend, drawPosition } from './position-drawing.js';
import { drawCautions, drawThisPrint, NONE_RECORDED, orNone } from './shared-sections.js';
import { drawFields, drawTable, fieldsHeightPt } from './table.js';

const BASIS_IN_WORDS: Record<ExtentBasis, string> = {
  measured: 'measured: both ends were measured',
  bracketed: 'bracketed: between the last and the first metre known to conform',
  assumed: 'assumed: no evidence bounds it',
};

function footageOrNone(footageMm: number | null): string {
  return footageMm === null ? NONE_RECORDED : `${formatMetres(footageMm)} m`;
}

function enteredText({ version, recordedAt, recordedBy, isLate }: NonconformanceIdentity): string {
  const text = `version ${version}: ${formatInstant(recordedAt)}, by ${recordedBy}`;
  return isLate ? `${text}; more than an hour after it was observed` : text;
}

function drawIdentity(frame: PageFrame, data: NonconformanceReportData): void {
  const { identity } = data;
  frame.heading(`Nonconformance report ${identity.number}`);
  drawFields(frame, [
    ['Title', orNone(identity.title)],
    ['Class', identity.classification],
    ['Source', orNone(identity.source)],
    ['State', orNone(identity.state)],
    ['Version', String(identity.version)],
    ['Well', orNone(identity.well)],
    ['String', orNone(identity.string)],
    ['Observed', formatInstant(identity.observedAt)],
    ['Entered', enteredText(identity)],
  ]);
}

function drawRequirement(frame: PageFrame, { requirement }: NonconformanceReportData): void {
  frame.heading('Requirement');
  if (requirement === null) {
    frame.paragraph(NONE_RECORDED);
    return;
  }
  drawFields(frame, [
    ['Document', orNone(requirement.document)],
    ['Revision', orNone(requirement.revision)],
    ['Clause', orNone(requirement.clause)],
    ['Limit', orNone(requirement.limit)],
  ]);
}

function foundText({ valueText, uncertaintyText, unit }: FoundValue): string {
  if (valueText === null) return NONE_RECORDED;
  if (uncertaintyText === null) return `${valueText} ${unit}, uncertainty not stated`;
  return `${valueText} ± ${uncertaintyText} ${unit} (k = 2)`;
}

function drawFound(frame: PageFrame, { found }: NonconformanceReportData): void {
  frame.heading('Found');
  if (found === null) {
    frame.paragraph(NONE_RECORDED);
    return;
  }
  drawFields(frame, [
    ['Value', foundText(found)],
    ['In words', orNone(found.words)],
    ['Method', orNone(found.method)],
    ['Instrument', orNone(found.instrument)],
    ['Found by', orNone(found.foundBy)],
    ['Found at', formatInstant(found.foundAt)],
  ]);
}

function wallText(places: readonly WallExtent[], wall: string, { depthsUnknown, string }: NonconformanceExtent): string {
  if (depthsUnknown !== null) return `not known: ${depthsUnknown}`;
  if (places.length === 0) return `not on the ${wall} wall`;
  const datum = string === null ? NONE_RECORDED : orNone(string.depthDatum);
  return places
    .map(({ depth, uncertaintyMm }) => `${formatInterval(depth)} ${formatUncertainty(uncertaintyMm)}, measured depth; datum: ${datum}`)
    .join('\n');
}

function extentFields(extent: NonconformanceExtent): [string, string][] {
  const footage = extent.footage;
  const strips = extent.strips.map((strip) => `coil ${strip.coil}, ${formatInterval(strip.interval)}`);
  return [
    ['Basis', BASIS_IN_WORDS[extent.basis]],
    ['String', extent.string === null ? 'none: strip that stands in no string' : orNone(extent.string.name)],
    ['Strip', orNone(strips.join('\n'))],
    ['Footage', footage === null ? NONE_RECORDED : `${formatInterval(footage)} ${formatUncertainty(extent.footageUncertaintyMm)}`],
    ['Length', footage === null ? NONE_RECORDED : `${formatMetres(footage.toMm - footage.fromMm)} m`],
    ['Last known good', footageOrNone(extent.lastKnownGoodFootageMm)],
    ['First known good', footageOrNone(extent.firstKnownGoodFootageMm)],
    ['Location when found', orNone(extent.locationWhenFound)],
    ['Location now', orNone(extent.locationNow)],
    ['Outer wall now', wallText(extent.outerWall, 'outer', extent)],
    ['Inner wall now', wallText(extent.innerWall, 'inner', extent)],
    ['Marks', orNone(extent.marks.join('\n'))],
  ];
}

function drawExtents(frame: PageFrame, data: NonconformanceReportData): void {
  if (data.extents.length === 0) {
    frame.heading('Extent and position');
    frame.paragraph(NONE_RECORDED);
    return;
  }
  data.extents.forEach((extent, i) => {
    const fields = extentFields(extent);
    frame.heading(`Extent and position, ${i + 1} of ${data.extents.length}`, fieldsHeightPt(frame, fields));
    drawFields(frame, fields);
    frame.gap();
    drawPosition(frame, extent, `Extent ${i + 1}`);
  });
  drawLegend(frame);
}

function drawContainment(frame: PageFrame, { containment }: NonconformanceReportData): void {
  frame.heading('Containment');
  if (containment.length === 0) {
    frame.paragraph(NONE_RECORDED);
    return;
  }
  const columns = [
    { title: 'Action', share: 0.4 },
    { title: 'Line at footage', share: 0.17 },
    { title: 'By', share: 0.19 },
    { title: 'When', share: 0.24 },
  ];
  const rows = containment.map((action) => [
    orNone(action.text),
    footageOrNone(action.footageMm),
    orNone(action.takenBy),
    formatInstant(action.takenAt),
  ]);
  drawTable(frame, columns, rows);
}

function drawDisposition(frame: PageFrame, { disposition }: NonconformanceReportData): void {
  frame.heading('Disposition');
  if (disposition === null) {
    frame.paragraph(NONE_RECORDED);
    return;
  }
  const approvals = disposition.approvals.map((approval) => {
    return `${approval.approvedBy}, ${approval.role}, ${formatInstant(approval.approvedAt)}`;
  });
  drawFields(frame, [
    ['Kind', orNone(disposition.kind)],
    ['Decision', orNone(disposition.text)],
    ['Approved by', orNone(approvals.join('\n'))],
  ]);
}

function drawNote(frame: PageFrame, { note }: NonconformanceReportData): void {
  frame.heading('Note');
  frame.paragraph(orNone(note));
}

/** One row per changed field; what the fields of one amendment share stands in its first row. */
function amendmentRows(amendment: Amendment): string[][] {
  const shared = [
    `${amendment.version}\n${formatInstant(amendment.amendedAt)}\n${orNone(amendment.amendedBy)}`,
    orNone(amendment.reason),
  ];
  if (amendment.changes.length === 0) return [[...shared, NONE_RECORDED, NONE_RECORDED, NONE_RECORDED]];
  return amendment.changes.map(({ field, before, after }, i) => {
    return [...(i === 0 ? shared : [`${amendment.version}`, '']), field, orNone(before), orNone(after)];
  });
}

function drawAmendments(frame: PageFrame, { amendments }: NonconformanceReportData): void {
  frame.heading('Amendments');
  if (amendments.length === 0) {
    frame.paragraph(NONE_RECORDED);
    return;
  }
  const columns = [
    { title: 'Version, when, by', share: 0.23 },
    { title: 'Reason', share: 0.22 },
    { title: 'Field', share: 0.15 },
    { title: 'Was', share: 0.2 },
    { title: 'Is now', share: 0.2 },
  ];
  drawTable(frame, columns, amendments.flatMap(amendmentRows));
}

/** All sections in order. A section without content says so; none is left out. */
export function drawSections(frame: PageFrame, data: NonconformanceReportData): void {
  drawIdentity(frame, data);
  drawRequirement(frame, data);
  drawFound(frame, data);
  drawExtents(frame, data);
  drawContainment(frame, data);
  drawDisposition(frame, data);
  drawNote(frame, data);
  drawAmendments(frame, data);
  drawCautions(frame, data.cautions);
  drawThisPrint(frame, data, 'End of report');
}
