import { PlanError } from '../errors.ts';
import { DEFAULT_FILLER } from '../material/builtInMaterials.ts';
import { migrateMaterial1, rubberOfMaterial1 } from '../material/migrateMaterial1.ts';
import { DEFAULT_WORK } from './defaultWork.ts';
import { DEFAULT_RUBBER_GIVE_MM, DEFAULT_TROWEL_RADIUS_MM } from './newPlan.ts';
import { plainCoat } from './plainCoat.ts';

const NEWEST_VERSION = 5;

/**
 * How a document of version n becomes one of version n + 1, by n. A plan kept by an earlier version walks
 * through every step from its own to the newest.
 */
const MIGRATIONS: Readonly<Record<number, (saved: Record<string, unknown>) => Record<string, unknown>>> = {
  1: addUndercutChoices,
  2: addWork,
  3: addBrush,
  4: addLeave,
};

/**
 * The document brought to the newest version; its contents are not looked at.
 * Throws PlanError 'newer-plan' for a version that this one does not know, 'bad-plan' for what is no plan.
 */
export function migratePlan(json: unknown): Record<string, unknown> {
  if (typeof json !== 'object' || json === null || Array.isArray(json)) {
    throw new PlanError(
      'bad-plan',
      'This is not a plan: a plan is a JSON object whose “schema” is "scute-plan/5".',
    );
  }
  let saved = json as Record<string, unknown>;
  const match = typeof saved['schema'] === 'string' ? /^scute-plan\/(\d{1,6})$/.exec(saved['schema']) : null;
  if (match === null) {
    throw new PlanError(
      'bad-plan',
      'This is not a plan: its “schema” is not "scute-plan/5". Open a plan that was saved here.',
      'schema',
    );
  }
  const version = Number(match[1]);
  if (version > NEWEST_VERSION) {
    throw new PlanError(
      'newer-plan',
      `This plan was saved by a later version (its “schema” is "scute-plan/${version}", and this version knows up to ${NEWEST_VERSION}). Bring the tool up to date to open it.`,
      'schema',
    );
  }
  for (let from = version; from < NEWEST_VERSION; from++) {
    const migrate = MIGRATIONS[from];
    if (migrate === undefined) {
      throw new PlanError('bad-plan', `No plan of the version “${match[0]}” was ever written.`, 'schema');
    }
    saved = migrate(saved);
  }
  return saved;
}

/** Version 2 came with the undercuts: how far the rubber yields, where no line may run, what is filled. */
function addUndercutChoices(saved: Record<string, unknown>): Record<string, unknown> {
  const { parting } = saved;
  return {
    ...saved,
    schema: 'scute-plan/2',
    // What is no object is left for the schema to name.
    parting: isRecord(parting)
      ? { ...parting, rubberGiveMm: DEFAULT_RUBBER_GIVE_MM, notHere: [], blockOut: [] }
      : parting,
  };
}

/** Version 3 came with the work: material systems as data, the bench, the day, the load and the log. */
function addWork(saved: Record<string, unknown>): Record<string, unknown> {
  const { coats, material } = saved;
  const added = plainCoat('', 'build', 1);
  const { name: _name, kind: _kind, thicknessMm: _thicknessMm, ...choices } = added;
  return {
    ...saved,
    schema: 'scute-plan/3',
    coats: Array.isArray(coats)
      ? coats.map((coat) => (isRecord(coat) ? { ...coat, ...choices } : coat))
      : coats,
    material: isRecord(material) ? migrateMaterial1(material) : material,
    otherMaterials: [],
    rubber: isRecord(material) ? rubberOfMaterial1(material) : material,
    filler: DEFAULT_FILLER,
    ...DEFAULT_WORK,
  };
}

/** Version 4 came with the brush that paints areas, and with the trowel over the last coat. */
function addBrush(saved: Record<string, unknown>): Record<string, unknown> {
  const { scan, parting } = saved;
  return {
    ...saved,
    schema: 'scute-plan/4',
    scan: isRecord(scan) ? { ...scan, keepClear: asDabs(scan['keepClear']) } : scan,
    parting: isRecord(parting) ? { ...parting, notHere: asDabs(parting['notHere']) } : parting,
    trowelRadiusMm: DEFAULT_TROWEL_RADIUS_MM,
  };
}

/** Version 5 came with the repairs that are left undone. */
function addLeave(saved: Record<string, unknown>): Record<string, unknown> {
  const { scan } = saved;
  return { ...saved, schema: 'scute-plan/5', scan: isRecord(scan) ? { ...scan, leave: [] } : scan };
}

/** An area was one ball; what is no list of areas is left for the schema to name. */
function asDabs(areas: unknown): unknown {
  if (!Array.isArray(areas)) return areas;
  return areas.map((area) => {
    if (!isRecord(area)) return area;
    const { centreMm, ...others } = area;
    return { ...others, dabsMm: [centreMm] };
  });
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
