import { describe, expect, it } from 'vitest';
import { formatForce, formatPressure, formatStress, formatWeight } from '../../src/core/units.ts';

describe('loads in words', () => {
  // Figures of a rectangle 0.4 m wide and 0.6 m deep under 1600 kg/m3: rho g w h^2 / 2 = 1129.7 N, 254.0 lbf; its lowest
  // pressure rho g h = 9.414 kPa. Recomputed here; g = 9.80665 m/s2 (NIST SP 811).
  const forceN = (1600 * 9.80665 * 0.4 * 0.6 ** 2) / 2;
  const pressurePa = 1600 * 9.80665 * 0.6;

  it('writes both systems', () => {
    expect(formatForce(forceN, 'metric')).toBe('1.13\u00a0kN');
    expect(formatForce(forceN, 'us')).toBe('254\u00a0lbf');
    expect(formatPressure(pressurePa, 'metric')).toBe('9.41\u00a0kPa');
    expect(formatPressure(pressurePa, 'us')).toBe('1.37\u00a0psi');
    // Roark's flat plate, Table 11.4 case 1a: 10 psi over 20 x 10 in, 1/4 in thick: 9763 psi.
    expect(formatStress((9763 * 6894.757293168) / 1e6, 'us')).toBe('9763\u00a0psi');
  });

  it('a kilogram-force is 9.80665 N and a pound-force 4.44822 N (NIST SP 811, Appendix B.8)', () => {
    expect(formatWeight(10 * 9.80665, 'metric')).toBe('10.00 kg');
    expect(formatWeight(20 * 4.4482216152605, 'us')).toBe('20.0 lb');
  });

  it('keeps the sign of a force that presses on, and says nought plainly', () => {
    expect(formatForce(-85.4, 'metric')).toBe('\u221285.4\u00a0N');
    expect(formatForce(0, 'us')).toBe('0\u00a0lbf');
  });
});
