/** Where the rules of this library come from, as a reader sees it. */
export const API_5C3_COLLAPSE = 'API Bull. 5C3 (1985), kept in API TR 5C3 / ISO/TR 10400 as the historic API collapse formulas (clause numbers not checked)';
export const API_5C3_BARLOW = 'API Bull. 5C3, historic API internal yield pressure of the pipe body (Barlow), kept in API TR 5C3 / ISO/TR 10400 (clause numbers not checked)';
export const ISO_10400_TRIAXIAL = 'ISO/TR 10400, yield of a thick wall by Lamé and von Mises at the bore, no axial force (clause from memory; derived here and checked point by point)';
export const FOLD_GEOMETRY = 'derived here from constant volume, no published source';
export const API_5C2_ROUNDING = 'API Bull. 5C2, rounding as its printed rows show it';
