import type { Vec3 } from '../core/mesh/TriMesh.ts';

/** Azimuth from +x, counter-clockwise from above; a pull that rises or falls says by how much. */
export function sayPull([x, y, z]: Vec3): string {
  const level = Math.hypot(x, y);
  const riseDeg = Math.round((Math.atan2(z, level) * 180) / Math.PI);
  if (riseDeg === 90) return 'straight up';
  if (riseDeg === -90) return 'straight down';
  const azimuthDeg = (Math.round((Math.atan2(y, x) * 180) / Math.PI) + 360) % 360;
  if (riseDeg === 0) return `${azimuthDeg}°`;
  return `${azimuthDeg}°, ${riseDeg > 0 ? 'up' : 'down'} ${Math.abs(riseDeg)}°`;
}
