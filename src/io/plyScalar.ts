/** The eight scalar types of PLY. Source: G. Turk, "The PLY Polygon File Format" (1994); the sized names came with later programs. */
export type PlyScalar = 'int8' | 'uint8' | 'int16' | 'uint16' | 'int32' | 'uint32' | 'float32' | 'float64';

/** Both families of names, as headers write them. A Map, because a header's word must never reach an object's prototype. */
export const PLY_SCALARS: ReadonlyMap<string, PlyScalar> = new Map<string, PlyScalar>([
  ['char', 'int8'],
  ['uchar', 'uint8'],
  ['short', 'int16'],
  ['ushort', 'uint16'],
  ['int', 'int32'],
  ['uint', 'uint32'],
  ['float', 'float32'],
  ['double', 'float64'],
  ['int8', 'int8'],
  ['uint8', 'uint8'],
  ['int16', 'int16'],
  ['uint16', 'uint16'],
  ['int32', 'int32'],
  ['uint32', 'uint32'],
  ['float32', 'float32'],
  ['float64', 'float64'],
]);

/** Bytes that a scalar takes in a binary file. */
export const PLY_SCALAR_BYTES: Readonly<Record<PlyScalar, number>> = {
  int8: 1,
  uint8: 1,
  int16: 2,
  uint16: 2,
  int32: 4,
  uint32: 4,
  float32: 4,
  float64: 8,
};

export const isPlyInteger = (type: PlyScalar): boolean => type !== 'float32' && type !== 'float64';

/** The scalar at byte `at` of the view. The caller has made sure that it lies within. */
export function readPlyScalar(view: DataView, at: number, type: PlyScalar, isLittleEndian: boolean): number {
  switch (type) {
    case 'float32':
      return view.getFloat32(at, isLittleEndian);
    case 'float64':
      return view.getFloat64(at, isLittleEndian);
    case 'int32':
      return view.getInt32(at, isLittleEndian);
    case 'uint32':
      return view.getUint32(at, isLittleEndian);
    case 'uint8':
      return view.getUint8(at);
    case 'int8':
      return view.getInt8(at);
    case 'uint16':
      return view.getUint16(at, isLittleEndian);
    case 'int16':
      return view.getInt16(at, isLittleEndian);
  }
}
