import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, posix, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..');

/** What may lie at the top, beside dotfiles and what .gitignore names. */
const TOP_LEVEL = [
  'DEVELOPERS.md',
  'README.md',
  'assets',
  'index.html',
  'package-lock.json',
  'package.json',
  'src',
  'test',
  'tsconfig.json',
  'vite.config.ts',
];

const SRC_LEVEL = ['cli', 'core', 'io', 'jobs', 'main.ts', 'report', 'session', 'ui', 'view'];

/** Paths are prefixes below src, without extension; packages are names, or names followed by /. */
interface Rule {
  /** Files that the rule speaks for; the first rule that matches a file is the one. */
  readonly files: string;
  readonly values: readonly string[];
  /** Besides `values`, for imports that leave nothing in the program. */
  readonly types: readonly string[];
  readonly packages: readonly string[];
}

/** Small parts of geometry and the plan's schema; a general geometry library is only for core/shell. */
const SMALL_PARTS = [
  'cdt2d',
  'd3-contour',
  'earcut',
  'flatqueue',
  'meshoptimizer/',
  'robust-predicates',
  'valibot',
];

const RULES: readonly Rule[] = [
  {
    files: 'core/spatial/',
    values: ['core/'],
    types: [],
    packages: [...SMALL_PARTS, 'three', 'three-mesh-bvh'],
  },
  { files: 'core/shell/', values: ['core/'], types: [], packages: [...SMALL_PARTS, 'manifold-3d'] },
  { files: 'core/picture/', values: ['core/'], types: [], packages: [...SMALL_PARTS, 'fast-png'] },
  { files: 'core/', values: ['core/'], types: [], packages: SMALL_PARTS },
  {
    files: 'io/',
    values: ['io/', 'core/errors', 'core/checkpoint', 'core/mesh/TriMesh'],
    types: ['core/'],
    packages: ['@loaders.gl/', 'fflate', 'saxes', 'three/examples/jsm/loaders/'],
  },
  { files: 'report/', values: ['report/', 'core/'], types: [], packages: ['d3-'] },
  // The page's first bundle holds the client and must hold no kernels.
  {
    files: 'jobs/client',
    values: ['jobs/protocol', 'jobs/messages'],
    types: ['core/', 'jobs/'],
    packages: [],
  },
  { files: 'jobs/digestBlob', values: [], types: [], packages: [] },
  { files: 'jobs/protocol', values: [], types: ['core/'], packages: [] },
  { files: 'jobs/messages', values: ['jobs/protocol'], types: ['core/', 'jobs/'], packages: [] },
  { files: 'jobs/', values: ['jobs/', 'core/', 'io/'], types: [], packages: [] },
  {
    files: 'session/',
    // Its actions pick built-in systems and set recipes by the same pure rules as the plan.
    values: ['session/', 'core/plan/', 'core/material/', 'core/errors'],
    types: ['core/', 'jobs/protocol'],
    packages: ['idb'],
  },
  // Picking needs a tree under the pointer, and the view may take no code from core: three's own add-on stands in.
  {
    files: 'view/pointer/',
    values: ['view/'],
    types: ['core/', 'jobs/protocol'],
    packages: ['three', 'three-mesh-bvh'],
  },
  {
    files: 'view/',
    values: ['view/'],
    types: ['core/', 'jobs/protocol'],
    packages: ['three', 'three/', 'earcut', 'd3-'],
  },
  {
    files: 'ui/',
    values: ['ui/', 'session/', 'jobs/client', 'jobs/protocol', 'view/', 'report/', 'core/units'],
    types: ['core/'],
    packages: ['lit', 'lit/', 'd3-', '@fontsource/'],
  },
  {
    files: 'cli/',
    values: ['cli/', 'core/', 'io/', 'report/', 'jobs/slabs/'],
    types: [],
    packages: ['node:', 'commander'],
  },
  // The page's entry puts the parts together.
  {
    files: 'main',
    values: ['ui/', 'session/', 'view/', 'jobs/client', 'jobs/digestBlob', 'jobs/protocol'],
    types: ['core/'],
    packages: ['@fontsource/', 'lit'],
  },
];

/** Names of the page or the machine that must not be met in a folder, after comments are taken out. */
const FORBIDDEN_NAMES: readonly { readonly files: RegExp; readonly name: RegExp; readonly why: string }[] = [
  {
    files: /^(core|io|report|jobs\/(?!client)|cli)/,
    name: /\b(document|window|localStorage|HTMLElement|CanvasRenderingContext2D)\s*[.([]/,
    why: 'knows no page',
  },
  { files: /^(core|io|report|cli)/, name: /\bfetch\s*\(/, why: 'fetches nothing' },
  {
    files: /^(?!jobs\/(client|digestBlob|slabs\/startSlabWorker)|cli\/startSlabThread)/,
    name: /\bnew\s+(Shared)?Worker\s*\(/,
    why: 'starts no worker',
  },
  { files: /^(?!cli\/)/, name: /\bprocess\.(env|argv|exit|stdout|stderr|cwd)\b/, why: 'knows no process' },
];

interface Import {
  readonly from: string;
  readonly isTypeOnly: boolean;
}

function listFiles(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    return statSync(path).isDirectory() ? listFiles(path) : [path];
  });
}

/** Line comments only where they begin a line or follow a space, so that "http://..." in a text stays. */
function withoutComments(source: string): string {
  return source.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|\s)\/\/.*$/gm, '$1');
}

function listImports(source: string): Import[] {
  const code = withoutComments(source);
  const found: Import[] = [];
  for (const match of code.matchAll(
    /^\s*(?:import|export)\s+(type\s+)?([^;'"]*?)\s*from\s*['"]([^'"]+)['"]/gm,
  )) {
    const names = /^\{([\s\S]*)\}$/.exec(match[2].trim());
    const parts =
      names?.[1]
        .split(',')
        .map((part) => part.trim())
        .filter((part) => part !== '') ?? [];
    const isInline = parts.length > 0 && parts.every((part) => part.startsWith('type '));
    found.push({ from: match[3], isTypeOnly: match[1] !== undefined || isInline });
  }
  for (const match of code.matchAll(/^\s*import\s*['"]([^'"]+)['"]/gm))
    found.push({ from: match[1], isTypeOnly: false });
  for (const match of code.matchAll(/\bimport\(\s*['"]([^'"]+)['"]/g))
    found.push({ from: match[1], isTypeOnly: false });
  return found;
}

/** What is wrong with the imports of a file below src, by the table; empty when nothing is. */
function judgeImports(file: string, source: string): string[] {
  const rule = RULES.find((one) => file.startsWith(one.files));
  if (rule === undefined) return [`${file}: no rule speaks for this file`];
  const starts = (name: string, prefixes: readonly string[]): boolean =>
    prefixes.some((prefix) => (/[/:-]$/.test(prefix) ? name.startsWith(prefix) : name === prefix));
  return listImports(source).flatMap(({ from, isTypeOnly }) => {
    if (!from.startsWith('.')) {
      return starts(from, rule.packages) ? [] : [`${file} imports the package ${from}`];
    }
    const target = posix.normalize(posix.join('src', posix.dirname(file), from.replace(/\?.*$/, '')));
    // Styles and pictures belong to the folder that imports them; tables and demo files are data, not code.
    if (target.startsWith('assets/') && !/\.[jt]s$/.test(target)) return [];
    if (!target.startsWith('src/')) return [`${file} imports ${target}, outside src`];
    const name = target.slice('src/'.length).replace(/\.ts$/, '');
    if (starts(name, rule.values) || (isTypeOnly && starts(name, rule.types))) return [];
    return [`${file} imports ${name}${isTypeOnly ? ' (types)' : ''}`];
  });
}

const toPosix = (path: string): string => path.split(sep).join('/');
const srcFiles = listFiles(join(ROOT, 'src'))
  .map((path) => toPosix(relative(join(ROOT, 'src'), path)))
  .filter((path) => path.endsWith('.ts') && !path.endsWith('.d.ts'));
const readSource = (file: string): string => readFileSync(join(ROOT, 'src', file), 'utf8');

describe('who may import whom', () => {
  it('every file of src keeps to the table', () => {
    expect(srcFiles.length).toBeGreaterThan(50);
    expect(srcFiles.flatMap((file) => judgeImports(file, readSource(file)))).toEqual([]);
  });

  it('no file uses names that its folder must not know', () => {
    const wrong = srcFiles.flatMap((file) => {
      const code = withoutComments(readSource(file));
      return FORBIDDEN_NAMES.filter((one) => one.files.test(file) && one.name.test(code)).map(
        (one) => `${file}: ${one.why}`,
      );
    });
    expect(wrong).toEqual([]);
  });

  it('relative imports name the file with its extension', () => {
    const wrong = srcFiles.flatMap((file) =>
      listImports(readSource(file))
        .filter(({ from }) => from.startsWith('.') && !/\.(ts|json|css)(\?\w+)?$/.test(from))
        .map(({ from }) => `${file}: ${from}`),
    );
    expect(wrong).toEqual([]);
  });

  it('the scan itself tells offences: each planted one is found', () => {
    const planted: [string, string, number][] = [
      ['core/mesh/a.ts', "import * as three from 'three';", 1],
      ['core/spatial/a.ts', "import * as three from 'three';", 0],
      ['core/mesh/a.ts', "import { readFile } from 'node:fs';", 1],
      ['core/mesh/a.ts', "import { Report } from '../../report/Report.ts';", 1],
      ['io/a.ts', "import type { PlanDocument } from '../core/plan/PlanDocument.ts';", 0],
      ['io/a.ts', "import { parsePlan } from '../core/plan/parsePlan.ts';", 1],
      ['view/a.ts', "import {\n  type A,\n  type B,\n} from '../core/mesh/TriMesh.ts';", 0],
      ['view/a.ts', "import {\n  type A,\n  b,\n} from '../core/mesh/TriMesh.ts';", 1],
      ['view/a.ts', "import { html } from 'lit';", 1],
      ['session/a.ts', "import { Mesh } from 'three';", 1],
      ['ui/a.ts', "import { computePlan } from '../core/computePlan.ts';", 1],
      ['ui/a.ts', "const m = await import('../core/computePlan.ts');", 1],
      ['jobs/client.ts', "export { computePlan } from '../core/computePlan.ts';", 1],
      ['cli/a.ts', "import '../ui/AppSheet.ts';", 1],
      ['cli/a.ts', "// import '../ui/AppSheet.ts';\n/* import '../ui/AppSheet.ts'; */", 0],
      ['extra/a.ts', '', 1],
    ];
    for (const [file, source, offences] of planted) {
      expect(judgeImports(file, source), `${file}: ${source}`).toHaveLength(offences);
    }
  });
});

describe('the house', () => {
  it('the top level and the folders of src are fixed', () => {
    const ignored = readFileSync(join(ROOT, '.gitignore'), 'utf8')
      .split('\n')
      .map((line) => line.replace(/^\//, ''));
    const top = readdirSync(ROOT).filter(
      (name) => !name.startsWith('.') && !ignored.includes(name) && !name.endsWith('.local'),
    );
    expect(top.filter((name) => !TOP_LEVEL.includes(name))).toEqual([]);
    expect(readdirSync(join(ROOT, 'src')).filter((name) => !SRC_LEVEL.includes(name))).toEqual([]);
  });

  const ownFiles = ['src', 'test', 'assets', '.ci']
    .flatMap((folder) => listFiles(join(ROOT, folder)))
    .concat(TOP_LEVEL.map((name) => join(ROOT, name)))
    .filter((path) => statSync(path, { throwIfNoEntry: false })?.isFile() ?? false)
    .map((path) => toPosix(relative(ROOT, path)));

  it('nothing is called utils or helpers', () => {
    expect(ownFiles.filter((path) => /util|helper/i.test(path))).toEqual([]);
  });

  it('no text names a place on someone’s machine or a registry’s host', () => {
    // Put together from parts, so that this file does not find itself.
    const places = ['work', 'home', 'root', 'Users', 'tmp'].map((name) => `/${name}/`).join('|');
    const forbidden = new RegExp(`(^|[\\s"'\`(=:])(${places})|registry\\.[a-z]+\\.|["']resolved["']:`, 'm');
    expect(forbidden.test(`see ${['', 'work', 'x'].join('/')}`)).toBe(true);
    const isText = /\.(ts|json|jsonc|md|html|css|svg|txt)$|\/run$/;
    const wrong = ownFiles.filter(
      (path) =>
        isText.test(path) &&
        path !== 'test/architecture.test.ts' &&
        forbidden.test(readFileSync(join(ROOT, path), 'utf8')),
    );
    expect(wrong).toEqual([]);
  });
});
