/** What findings on files and on how they were read tell. */
import type { FilePlace } from './place.ts';

/** A value from a file as a sentence may show it: lists and objects are named only, for they may be endless. */
export type Shown = { readonly how: 'list' | 'object' } | { readonly how: 'text'; readonly text: string };

/** A binary file of a known kind. */
export type BinaryKind = 'png' | 'jpeg' | 'gif' | 'pdf' | 'zip' | 'gzip' | 'dwg' | 'binary-dxf' | 'glb';

/** What an entry of a lesson has to be, with the numbers or names that say more of it. */
export type WantedCode =
  | 'text'
  | 'number'
  | 'finite'
  | 'within'
  | 'at-least'
  | 'at-most'
  | 'point'
  | 'vertex'
  | 'vertex-least'
  | 'angle'
  | 'angle-range'
  | 'turn-range'
  | 'side-look'
  | 'colour'
  | 'colour-form'
  | 'side-up'
  | 'boolean'
  | 'made-crease'
  | 'drive'
  | 'whole'
  | 'limit-least'
  | 'limit-most'
  | 'permission'
  | 'use'
  | 'credit'
  | 'length'
  | 'sheet-least'
  | 'sheet-most'
  | 'thickness'
  | 'sheet'
  | 'sides'
  | 'corners'
  | 'corners-least'
  | 'line-kind'
  | 'line'
  | 'lines'
  | 'vertices'
  | 'two-vertices'
  | 'numbers'
  | 'pattern'
  | 'creases'
  | 'part-name'
  | 'part'
  | 'parts'
  | 'step-kind'
  | 'drives'
  | 'poses'
  | 'points'
  | 'glass'
  | 'minutes'
  | 'order-side'
  | 'order'
  | 'orders'
  | 'step'
  | 'steps'
  | 'limits'
  | 'lesson';
export type Wanted = readonly [code: WantedCode, ...more: (string | number)[]];

/** A curve in a drawing: a shape of SVG, an entity of DXF, or an arc in one. */
export type Curve =
  | {
      readonly how: 'shape';
      readonly shape: 'rounded-corners' | 'ellipse' | 'circle' | 'arc' | 'curve';
      readonly place: FilePlace;
    }
  | {
      readonly how: 'entity' | 'arc-in';
      readonly type: string;
      readonly line: number;
      readonly layer: string;
    };

/** Something in a drawing that is no line of the pattern. */
export type PassedOver =
  | { readonly how: 'element'; readonly name: string }
  | {
      readonly how:
        | 'no-stroke'
        | 'invisible'
        | 'foreign'
        | 'use-of-nothing'
        | 'other-file'
        | 'hidden-layer'
        | 'mesh'
        | 'block-missing'
        | 'clipped';
    }
  /** of DXF: invisible by itself, on the paper of a layout, of kinds beyond those told apart */
  | { readonly how: 'invisible-entity' | 'layout' | 'other-kind' };

/** What the style of a drawing asks and what is not followed: the lines are kept as if it did not stand there. */
export type Unfollowed =
  | 'clip-path'
  | 'clip-rule'
  | 'color'
  | 'cx'
  | 'cy'
  | 'd'
  | 'display'
  | 'filter'
  | 'font-size'
  | 'height'
  | 'mask'
  | 'offset-path'
  | 'opacity'
  | 'overflow'
  | 'r'
  | 'rotate'
  | 'rx'
  | 'ry'
  | 'scale'
  | 'stroke'
  | 'stroke-dasharray'
  | 'stroke-opacity'
  | 'stroke-width'
  | 'transform'
  | 'transform-box'
  | 'transform-origin'
  | 'translate'
  | 'vector-effect'
  | 'visibility'
  | 'width'
  | 'x'
  | 'y'
  | 'zoom';

/** What is wrong with a picture. */
export type PictureTrouble =
  | { readonly how: 'no-png' | 'broken' }
  | { readonly how: 'kilobytes' | 'pixels'; readonly most: number };

/** How an XML file is broken. */
export type BrokenXml =
  | 'unclosed'
  | 'end-tag'
  | 'attribute-twice'
  | 'attribute'
  | 'entity'
  | 'outside'
  | 'character'
  | 'form';

/** Why a group of lines is taken for what it is. */
export type GuessReason =
  | {
      readonly how: 'rim' | 'dash-dot' | 'dashed' | 'dotted' | 'heaviest' | 'solid-inside' | 'colour-only';
    }
  | { readonly how: 'layer'; readonly layer: string };

/** One of several troubles that say nothing more. */
type Only<How extends string> = How extends string ? { readonly how: How } : never;

type AnyFile =
  | Only<'empty' | 'binary' | 'json-unknown' | 'mapping'>
  | { readonly how: 'binary-known'; readonly what: BinaryKind }
  | { readonly how: 'unknown-kind'; readonly name: string }
  | { readonly how: 'surprise'; readonly name: string; readonly said: string }
  | { readonly how: 'json-broken'; readonly line: number; readonly column: number }
  | { readonly how: 'mapping-kind'; readonly key: string; readonly kinds: readonly string[] }
  | { readonly how: 'mapping-angle'; readonly key: string }
  | { readonly how: 'region'; readonly region: number; readonly sheets: number }
  | Only<'pdf-locked' | 'pdf-broken'>
  | { readonly how: 'page'; readonly page: number; readonly pages: readonly number[] }
  | Only<'picture-undecoded' | 'picture-no-lines'>
  | { readonly how: 'picture-crowded'; readonly lines: number; readonly most: number }
  | { readonly how: 'picture-blurred'; readonly gap: number; readonly blur: number }
  | {
      readonly how: 'picture-coarse';
      readonly of: 'sheet' | 'gap';
      readonly pixels: number;
      readonly least: number;
    };

type SvgFile =
  /** `at`: the letter of its data at which it cannot be read, counted from 1 */
  | { readonly how: 'svg-path'; readonly place: FilePlace; readonly at: number | null }
  | {
      readonly how: 'svg-broken';
      readonly line: number;
      readonly column: number;
      readonly what: BrokenXml;
    }
  | { readonly how: 'svg-entity'; readonly name: string; readonly why: 'elsewhere' | 'built' }
  | { readonly how: 'svg-root' | 'svg-name-space'; readonly name: string }
  | { readonly how: 'svg-transform'; readonly place: FilePlace; readonly text: string }
  | { readonly how: 'svg-use'; readonly place: FilePlace };

type DxfFile =
  | { readonly how: 'dxf-code'; readonly line: number; readonly text: string }
  | { readonly how: 'dxf-off-plane' | 'dxf-tilted'; readonly type: string; readonly line: number }
  /** `others`: the height at which the drawing begins */
  | {
      readonly how: 'dxf-height';
      readonly type: string;
      readonly line: number;
      readonly height: number;
      readonly others: number;
    }
  | { readonly how: 'dxf-missing'; readonly type: string; readonly line: number; readonly code: number }
  | { readonly how: 'dxf-block'; readonly name: string; readonly line: number }
  | { readonly how: 'dxf-deep'; readonly name: string; readonly line: number; readonly most: number };

type FoldFile =
  | Only<'fold-object' | 'fold-no-coords' | 'fold-folded'>
  | { readonly how: 'fold-frame-itself'; readonly frame: number }
  | { readonly how: 'fold-frame-missing'; readonly frame: number; readonly parent: Shown }
  | { readonly how: 'fold-frame' | 'fold-point' | 'fold-edge' | 'fold-face'; readonly place: FilePlace }
  | { readonly how: 'fold-unit'; readonly shown: Shown; readonly units: readonly string[] }
  | { readonly how: 'fold-letter'; readonly place: FilePlace; readonly shown: Shown }
  | { readonly how: 'fold-no-list'; readonly list: string }
  | {
      readonly how: 'fold-list-length';
      readonly list: string;
      readonly length: number;
      readonly edges: number;
    }
  | {
      readonly how: 'fold-index';
      readonly place: FilePlace;
      readonly shown: Shown;
      readonly most: number;
    };

type LessonFile =
  | Only<'no-lesson' | 'lesson-version'>
  | { readonly how: 'lesson-newer'; readonly version: number; readonly known: number }
  /** The way to an entry: names, and places in lists counted from 0. */
  | {
      readonly how: 'lesson-entry';
      readonly path: readonly (string | number)[];
      readonly wanted: Wanted | null;
    };

export interface FileValues {
  'file-unreadable': AnyFile | SvgFile | DxfFile | FoldFile | LessonFile;
  /** `bytes` in megabytes */
  'file-too-large':
    | { readonly how: 'lines' | 'bytes' | 'pages'; readonly count: number; readonly most: number }
    | {
        readonly how: 'crossings' | 'strokes' | 'svg-repeats' | 'svg-styles' | 'svg-shapes' | 'dxf-repeats';
        readonly most: number;
      }
    | {
        readonly how: 'fold';
        readonly of: 'vertices' | 'edges' | 'faces';
        readonly count: number;
        readonly most: number;
      };
  'number-invalid':
    | { readonly how: 'of-line'; readonly place: FilePlace }
    | {
        readonly how: 'lists-differ';
        readonly edges: number;
        readonly kinds: number;
        readonly angles: number;
      }
    | { readonly how: 'of-vertex'; readonly vertex: number }
    | { readonly how: 'vertex-missing'; readonly edge: number; readonly vertices: number }
    | { readonly how: 'no-number'; readonly place: FilePlace; readonly shown: Shown }
    | {
        readonly how: 'too-large';
        readonly place: FilePlace;
        readonly shown: Shown;
        readonly most: number;
      }
    | { readonly how: 'angle-of-name'; readonly name: string }
    | { readonly how: 'length'; readonly place: FilePlace; readonly text: string }
    | { readonly how: 'angle'; readonly place: FilePlace; readonly angle: number };
  'line-curved': { readonly first: Curve; readonly count: number };
  'line-ignored':
    | { readonly how: 'faces' }
    | { readonly how: 'left-out'; readonly what: PassedOver; readonly count: number }
    | { readonly how: 'style-rules'; readonly count: number }
    | { readonly how: 'cut' | 'colours'; readonly count: number; readonly first: FilePlace }
    | {
        readonly how: 'unfollowed';
        readonly what: Unfollowed;
        readonly count: number;
        readonly first: FilePlace;
      }
    /** Lines round the sheet and beside it, which no crease ends on, and curves off it. */
    | {
        readonly how: 'not-of-sheet';
        readonly round: number;
        readonly beside: number;
        readonly curves: number;
      };
  /** Lines that have to be looked at, and places with ink that no line explains. */
  'picture-read': { readonly lines: number; readonly doubtful: number; readonly unexplained: number };
  'line-kind-guessed': {
    readonly count: number;
    readonly dash: 'solid' | 'dashed' | 'dash-dot' | 'dash-dot-dot' | 'dotted';
    readonly colour: string;
    readonly layer: string;
    readonly kind: 'mountain' | 'valley' | 'unassigned' | 'flat' | 'edge' | 'cut' | 'ignore';
    readonly reason: GuessReason;
  };
  'picture-left-out':
    | { readonly how: 'no-list' }
    | { readonly how: 'too-many'; readonly most: number }
    | { readonly how: 'of-step'; readonly step: number; readonly trouble: PictureTrouble };
}
