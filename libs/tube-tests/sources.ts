/** Where the rules of this library come from, as a reader sees it. */
export const ISO_8492 = 'ISO 8492:2013 (from an extract of it)';
export const API_5ST_FLATTENING = 'API Spec 5ST 6.2.4 (from an extract of it)';
export const BOILER_49B = 'Indian Boiler Regulations, Regulation 49B';
export const BOILER_59 = 'Indian Boiler Regulations, Regulation 59';
export const BOILER_59B = 'Indian Boiler Regulations, Regulation 59(b)';
/** Of little authority, and said so wherever it is used. */
export const VENDOR_PAGE = 'a vendor\'s page with pictures of tests (of little authority)';
export const COMMON_PRACTICE = 'common practice, no published source';
