/**
 * Binary STL: 80 bytes of free text, a little-endian uint32 count, then 50 bytes a triangle: normal, three corners
 * (twelve little-endian float32) and a uint16 without agreed meaning. Source: P. Bourke, "StL format",
 * paulbourke.net/dataformats/stl.
 */
export const STL_COUNT_AT = 80;
export const STL_BODY_AT = 84;
export const STL_TRI_BYTES = 50;
/** Where the first corner stands in a triangle's record, after the normal. */
export const STL_CORNERS_AT = 12;
