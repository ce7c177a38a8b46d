/** The order of strength (CSS Cascading 4, 6), and what of style sheets is not followed. */
import { describe, expect, test } from 'vitest';
import { linesOf, looksOf, notesOf } from './svg-help.ts';

const green = '#008000 solid';
const path = (attributes: string) => `<path ${attributes} d="M0 0H1"/>`;

describe('the stronger over the weaker', () => {
  test.each([
    ['a rule over an attribute', '*{stroke:green}', path('stroke="red"')],
    ['a style over a rule with an id', '#p{stroke:red}', path('id="p" style="stroke:green"')],
    ['an important rule over a style', 'path{stroke:green!important}', path('style="stroke:red"')],
    [
      'an important style over an important rule',
      '#p{stroke:red !important}',
      path('id="p" style="stroke:green ! important"'),
    ],
    [
      'an id over many classes',
      '#p{stroke:green}.a.b.c[d]:not(.x){stroke:red}',
      path('id="p" class="a b c"'),
    ],
    ['[id] is no stronger than a class', '.a{stroke:red}[id="p"]{stroke:green}', path('id="p" class="a"')],
    ['the later of two that are equal', '.a{stroke:red}.b{stroke:green}', path('class="b a"')],
    [':where counts nothing', 'path{stroke:green}:where(#p){stroke:red}', path('id="p"')],
    [':is counts as its strongest', ':is(#none,path){stroke:green}.a{stroke:red}', path('class="a"')],
    [
      ':nth-child(of) counts what it names',
      'path:nth-child(1 of .a){stroke:green}path.a{stroke:red}',
      path('class="a"'),
    ],
    ['inherit asks the parent', 'path{stroke:inherit}', `<g stroke="green">${path('stroke="red"')}</g>`],
    [
      'unset inherits what is inherited',
      'path{stroke:unset}',
      `<g stroke="green">${path('stroke="red"')}</g>`,
    ],
    ['an escape is the letter itself', '.\\31 a{stroke:green}', path('class="1a"')],
    ['an escaped dot is part of a tag', '\\.a{stroke:red}', path('class="a" stroke="green"')],
    ['tags mind capitals in XML', 'PATH{stroke:red}', path('stroke="green"')],
    ['a comment between', 'path/* } */{/*;*/stroke:/*red*/green}', path('')],
    ['rules around nested ones', '.a{stroke:red;&.b{stroke:blue}stroke:green}', path('class="a"')],
    [
      'a sheet of another language',
      '',
      `<style type="text/other">path{stroke:red}</style>${path('stroke="green"')}`,
    ],
    ['a sheet for print', '', `<style media="print">path{stroke:red}</style>${path('stroke="green"')}`],
    ['a sheet for screen', '', `<style media="screen">path{stroke:green}</style>${path('stroke="red"')}`],
  ])('%s', (_name, css, inside) => {
    const all = `<style><![CDATA[${css}]]></style>${inside}`;
    expect(looksOf(all)).toEqual([green]);
    expect(notesOf(all)).toEqual([]);
  });

  test('display none by a rule hides a group', () => {
    const inside = `<style>.off{display:none}</style><g class="off">${path('stroke="red"')}</g><path d="M0 1H1" stroke="red"/>`;
    expect(linesOf(inside)).toEqual(['0 9 1 9']);
  });
});

describe('what is not followed is counted', () => {
  test.each([
    ['a pseudo-class of another moment', 'path:focus{stroke:red}', 1],
    ['a name space', 's|path{stroke:red} path{stroke:green}', 1],
    ['selectors that are no CSS', 'path:contains(x){stroke:red} path:eq(0){stroke:red} a != b{}', 2],
    ['a list with one that is unknown counts as a whole', 'path, path:unknown{stroke:red}', 1],
    ['conditions on the window', '@media (min-width: 3px){path{stroke:red} g{stroke:red}}', 2],
    ['layers and conditions', '@layer x{path{stroke:red}} @supports (a:b){path{stroke:red}}', 2],
    ['what is no declaration', 'path{rubbish; stroke:green; 3}', 2],
    ['a rule without braces', 'path{stroke:green} path stroke red', 1],
  ])('%s', (_name, css, count) => {
    const inside = `<style><![CDATA[${css}]]></style>${path('stroke="green"')}`;
    expect(looksOf(inside)).toEqual([green]);
    const rules = count === 1 ? 'rule that is' : 'rules that are';
    expect(notesOf(inside)).toEqual([
      `${count} style ${rules} not followed left out: give lines a class or a style of their own.`,
    ]);
  });

  test('a sheet in another file is not fetched, and counted', () => {
    const inside = `<style>@import url("http://elsewhere.invalid/a.css"); path{stroke:green}</style>${path('')}`;
    expect(looksOf(inside)).toEqual([green]);
    expect(notesOf(inside)).toEqual([
      '1 × reference to another file in the drawing left out: it is no line of the pattern.',
    ]);
  });
});
