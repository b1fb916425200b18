import type * as v from 'valibot';
import { plainWords } from './plainWords.ts';

/** Where in a document an offence stands and what it is: field "coats.1.thicknessMm", text "is -3; it must be ...". */
export interface DescribedIssue {
  readonly field: string;
  readonly text: string;
}

/**
 * The offence of the first issue that says most, in words that are safe to print. Within alternatives ('auto' or a number) the
 * one that went deepest into the value is told, since that is what the writer meant.
 */
export function describeIssue(issue: v.BaseIssue<unknown>): DescribedIssue {
  const { field, text } = describe(issue);
  return { field: plainWords(field), text: plainWords(text) };
}

function describe(issue: v.BaseIssue<unknown>): DescribedIssue {
  let told: v.BaseIssue<unknown> = issue;
  if (issue.type === 'union' && issue.issues !== undefined) {
    const sameKind = issue.issues.filter((inner) => inner.expected === null || depthOf(inner) > 0);
    const deepest = sameKind.sort((a, b) => depthOf(b) - depthOf(a))[0];
    if (deepest !== undefined) {
      const inner = describe(deepest);
      const outer = fieldOf(issue);
      return { field: [outer, inner.field].filter((part) => part !== '').join('.'), text: inner.text };
    }
    told = issue;
  }
  const field = fieldOf(told);
  if (told.type === 'strict_object') {
    if (told.expected === 'never') return { field, text: 'is no key that is known here' };
    if (told.received === 'undefined') return { field, text: 'is missing' };
  }
  return { field, text: told.message };
}

function depthOf(issue: v.BaseIssue<unknown>): number {
  return issue.path?.length ?? 0;
}

function fieldOf(issue: v.BaseIssue<unknown>): string {
  return (issue.path ?? []).map((item) => String(item.key)).join('.');
}
