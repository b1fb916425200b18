import type { SurfaceOnBoard } from '../../core/field/BandSource.ts';
import type { FieldOrder } from '../../core/field/slabs/FieldOrder.ts';
import type { Slab, SlabField } from '../../core/field/slabs/Slab.ts';

export type ToHand =
  /** Replaces the surface that was there. */
  | { readonly kind: 'surface'; readonly surface: SurfaceOnBoard }
  | { readonly kind: 'slab'; readonly id: number; readonly order: FieldOrder; readonly slab: Slab }
  | { readonly kind: 'cancel'; readonly id: number };

/** A cancelled slab ends without a message. */
export type FromHand =
  /** The hand has started. */
  | { readonly kind: 'ready' }
  | { readonly kind: 'done'; readonly id: number; readonly field: SlabField }
  | { readonly kind: 'failed'; readonly id: number; readonly why: string };

/** A worker of the page or a thread of the command; a test can stand in for it. */
export interface HandThread {
  postMessage(message: ToHand): void;
  terminate(): void;
  onmessage: ((message: FromHand) => void) | null;
  /** It died, or could not be started. */
  onlost: (() => void) | null;
}
