/** Worker entry of `digestBlob`: the page's thread would stand still for half a second with a large scan. */
const scope = self as unknown as {
  onmessage: ((event: MessageEvent<Blob>) => void) | null;
  postMessage(digest: string): void;
};

scope.onmessage = async ({ data }) => {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', await data.arrayBuffer()));
  scope.postMessage(Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join(''));
};
