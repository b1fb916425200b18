/** Why the browser did not keep the job, and what to do, in a few plain sentences. */
export function explainStoreError(error: unknown): string {
  const name = error instanceof Error || error instanceof DOMException ? error.name : '';
  const remedy =
    'Everything is still here while this tab is open; save the plan to a file before you close it.';
  if (name === 'QuotaExceededError')
    return `The browser’s store is full, so this job is not kept. Erase what you no longer need under Plans. ${remedy}`;
  if (name === 'TimeoutError') return `Another tab holds the browser’s store. Close it. ${remedy}`;
  if (name === 'StoreSilent')
    return `The browser’s store does not answer, so this job is not kept yet. ${remedy}`;
  if (name === 'NotSupportedError')
    return `This browser gives the page no store, so this job is not kept. ${remedy}`;
  if (name === 'VersionError')
    return `A newer version of this page has used the browser’s store; reload to get that one. ${remedy}`;
  return `This browser does not let the page keep the job (${name || 'unknown reason'}). ${remedy}`;
}
