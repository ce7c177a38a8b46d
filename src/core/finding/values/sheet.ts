/** What findings on a sheet and its corners tell. */
import type { FilePlace, PatternPlace } from './place.ts';

type Kind = 'mountain' | 'valley' | 'unassigned' | 'flat' | 'edge' | 'cut';

/** What one mistake may be behind corners that do not close; of several creases the likeliest first. */
export type Behind =
  | { readonly how: 'turned'; readonly creases: readonly number[]; readonly sure: boolean }
  /** @param angle of the first, degrees */
  | {
      readonly how: 'angle';
      readonly creases: readonly number[];
      readonly sure: boolean;
      readonly angle: number;
    }
  /** @param far in the pattern's unit @param or other corners, each of which moved alone does it too */
  | { readonly how: 'moved'; readonly corner: number; readonly far: number; readonly or: readonly number[] };

/** A corner that does not fold, and what may be behind it. */
interface AtCorner {
  readonly place: PatternPlace;
  readonly behind?: Behind;
}

interface LinesOnEachOther {
  readonly count: number;
  readonly first: readonly [FilePlace, FilePlace];
}

/** What keeps a graph from being taken as it stands. */
export type GraphClash =
  | { readonly how: 'one-place' }
  | { readonly how: 'several-sheets'; readonly count: number }
  | { readonly how: 'off-paper'; readonly edge: number }
  | { readonly how: 'no-paper' }
  | { readonly how: 'no-length'; readonly edge: number }
  | { readonly how: 'same' | 'meet'; readonly edges: readonly [number, number] };

/** What a drawing nearly has and could not be given: by how much it misses, in degrees or in the drawing's unit. */
export interface StillOff {
  readonly name:
    | 'halved angles'
    | 'right angles'
    | 'lines at one place'
    | 'equal spacings'
    | 'mirror lines'
    | 'slants';
  readonly by: number;
}

export interface SheetValues {
  'vertex-odd-degree': AtCorner & { readonly folds: number };
  /** @param sum of every other angle, degrees */
  'vertex-angle-sum': AtCorner & { readonly sum: number };
  'vertex-mountain-valley-count': AtCorner & { readonly mountains: number; readonly valleys: number };
  'vertex-small-angle': AtCorner;
  /** `left` over, degrees */
  'vertex-closure':
    | (AtCorner & { readonly how: 'through-itself' })
    | (AtCorner & { readonly how: 'left-over'; readonly left: number })
    | { readonly how: 'pose-through-itself'; readonly vertex: number; readonly behind?: Behind }
    | {
        readonly how: 'pose-left-over';
        readonly vertex: number;
        readonly left: number;
        readonly behind?: Behind;
      };
  /** `left` over, degrees; `gap` in the pattern's unit, of a pose in shares of the sheet */
  'hole-closure':
    | (AtCorner & { readonly how: 'left-over'; readonly left: number; readonly gap: number })
    | {
        readonly how: 'pose-left-over';
        readonly left: number;
        readonly gap: number;
        readonly behind?: Behind;
      };
  'crease-dangling': /** `gap`: how far the next line is, in the pattern's unit, where the end was meant to meet it. */
    | { readonly how: 'undecided'; readonly place: PatternPlace; readonly gap?: number }
    | {
        readonly how: 'fold';
        readonly kind: 'mountain' | 'valley';
        readonly place: PatternPlace;
        readonly gap?: number;
      }
    | { readonly how: 'marks'; readonly count: number };
  'crease-overlap':
    | (LinesOnEachOther & { readonly how: 'same' | 'angle' })
    | (LinesOnEachOther & { readonly how: 'kind'; readonly won: Kind; readonly lost: Kind })
    | { readonly how: 'rebuilt'; readonly clash: GraphClash };
  'crease-snapped':
    | { readonly how: 'many'; readonly count: number; readonly gap: number }
    | { readonly how: 'one'; readonly place: PatternPlace; readonly gap: number };
  'crease-too-short': { readonly count: number; readonly first: FilePlace };
  'crease-outside':
    | { readonly how: 'cut-off'; readonly count: number; readonly first: FilePlace }
    | {
        readonly how: 'left-out';
        readonly count: number;
        readonly first: FilePlace;
        readonly kind: 'crease' | 'edge' | 'cut';
      };
  'outline-open':
    | { readonly how: 'no-paper' }
    | {
        readonly how: 'gap';
        readonly from: PatternPlace;
        readonly to: PatternPlace;
        readonly gap: number;
      };
  'outline-several': { readonly how: 'largest-taken' | 'cuts'; readonly count: number };
  'outline-missing': { readonly how: 'taken-in-file' | 'taken-in-drawing' | 'none' };
  'sheet-empty': {
    readonly how: 'no-lines' | 'points-only' | 'no-edges' | 'no-line-found' | 'no-edges-vertices';
  };
  'sheet-disconnected': { readonly pieces: number };
  /** Lengths in the drawing's unit; `rounding` left over, degrees, where there is any */
  'vertex-moved':
    | { readonly how: 'in-vain' }
    | { readonly how: 'too-far'; readonly moved: number; readonly limit: number }
    | { readonly how: 'onto-grid'; readonly parts: number; readonly moved: number }
    | {
        readonly how: 'moved';
        readonly moved: number | null;
        readonly rounding: number | null;
        readonly stillOff: readonly StillOff[];
      };
}
