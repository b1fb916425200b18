import type { ScanReport } from '../core/PlanResult.ts';
import type { UnitSystem } from '../core/units.ts';
import { describeScan } from './describeScan.ts';
import type { Report } from './Report.ts';

/** What a scan is, for people. */
export function reportCheck(fileName: string, scan: ScanReport, system: UnitSystem): Report {
  return { title: `Check of ${fileName}`, sections: [describeScan(scan, system)] };
}
