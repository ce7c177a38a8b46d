// Changes of the core that alter no answer, each with the reason.
export const equivalent = [
  {
    file: 'src/core/contact/boxes.ts',
    before: 'const o = 6 * n;',
    after: 'const o = 6 / n;',
    why: 'in the girth, which only says which of two boxes is parted first: the same pairs are found',
  },
  {
    file: 'src/core/layer/search.ts',
    before: 'if (value[first] !== 1) {',
    after: 'if (value[first] !== 0) {',
    why: 'what was learnt follows from the conditions: where it is overlooked the search takes longer to the same states',
  },
  {
    file: 'src/core/layer/merge.ts',
    before: 'if (start[root] === start[root + 1]) {',
    after: 'if (start[root] === start[root + 2]) {',
    why: 'an unknown that no condition names is then searched as a part of its own, which has the same two states',
  },
  {
    file: 'src/core/layer/pieces.ts',
    before: 'if (nearest <= end) break;',
    after: 'if (nearest < end) break;',
    why: 'one stretch more of the ray is looked at, all of which lies beyond what was found',
  },
  {
    file: 'src/core/pose/place.ts',
    before:
      'if (left === NONE || right === NONE || left === right || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;',
    after:
      'if (left === NONE || right === NONE && left === right || !kindJoinsPanels(sheet.creaseKind[e]!)) continue;',
    why: 'a line with paper on one side is a raw edge, which joins no panels; and from itself a panel does not gape',
  },
  {
    file: 'src/core/numeric/symbolic.ts',
    before: 'const parent = new Int32Array(n).fill(-1);',
    after: 'const parent = new Int32Array(n).fill(-2);',
    why: 'of a parent that is none only the sign is asked',
  },
  {
    file: 'src/core/numeric/symbolic.ts',
    before: 'const width = k + 1 - here;',
    after: 'const width = k + 0 - here;',
    why: 'columns are put together in other groups: the factor has the same entries, only more or fewer zeros are stored',
  },
  {
    file: 'src/core/numeric/plane.ts',
    before: 'if (repeated) continue;',
    after: 'if (false && (repeated)) continue;',
    why: 'a point that is found twice at one place joins what its equal joins: the same groups, found more slowly',
  },
  {
    file: 'src/core/run/asked.ts',
    before: 'exact[crease] = 1;',
    after: 'exact[crease] = 2;',
    why: 'of a mark only whether it is 0 is asked',
  },
  {
    file: 'src/core/contact/pair.ts',
    before: 'if (gap >= enough) return gap;',
    after: 'if (gap > enough) return gap;',
    why: 'where the bound is just enough the distance, which is no less, is found as well; who asks takes either for enough',
  },
  {
    file: 'src/core/layer/planes.ts',
    before: 'for (let h = 0; h < 2 * net.from.length; h++) beside[faces.face[h]!]!.push(h);',
    after: 'for (let h = 1; h < 2 * net.from.length; h++) beside[faces.face[h]!]!.push(h);',
    why: 'what parts cells from the outside is a ring of three straight lines or more: without one of them they are reached across another, and lie under the same panels',
  },
];
