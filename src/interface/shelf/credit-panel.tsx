/** Title, place and credit of the lesson, as the teacher states them. */

import { Checkbox, CheckboxGroup, Input, Label, Radio, RadioGroup, TextField } from 'react-aria-components';
import { permissions, uses } from '../../core/lesson/lesson.ts';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import { ShelfPanel } from './shelf-panel.tsx';

export default function CreditPanel() {
  const lesson = useDesk((state) => state.document.lesson);
  if (!lesson) return null;
  const { credit } = lesson;
  return (
    <ShelfPanel panel="about" title={words.aboutLesson}>
      <div className="credit">
        <Text label={words.lessonTitle} value={lesson.title} onChange={desk.credit.setTitle} />
        <Text label={words.lessonPlace} value={lesson.place} onChange={desk.credit.setPlace} />
        <Text label={words.creditMaker} value={credit.maker} onChange={desk.credit.setMaker} />
        <Text label={words.creditSource} value={credit.source ?? ''} onChange={desk.credit.setSource} />
        <RadioGroup
          className="choice"
          value={credit.permission ?? 'unknown'}
          onChange={(one) => desk.credit.setPermission(one as (typeof permissions)[number])}
        >
          <Label>{words.permission}</Label>
          <div className="choice-row">
            {permissions.map((one) => (
              <Radio key={one} value={one} className="choice-one">
                {words.permissions[one]}
              </Radio>
            ))}
          </div>
        </RadioGroup>
        <CheckboxGroup
          className="choice"
          value={[...(credit.allowed ?? [])]}
          onChange={desk.credit.setAllowed}
        >
          <Label>{words.allowed}</Label>
          <div className="choice-row">
            {uses.map((one) => (
              <Checkbox key={one} value={one} className="choice-one">
                {words.uses[one]}
              </Checkbox>
            ))}
          </div>
        </CheckboxGroup>
        <Text label={words.creditDate} value={credit.date ?? ''} onChange={desk.credit.setDate} />
        <Text label={words.creditStatus} value={credit.status} onChange={desk.credit.setStatus} />
      </div>
    </ShelfPanel>
  );
}

function Text(props: { label: string; value: string; onChange: (value: string) => void }) {
  return (
    <TextField className="field" value={props.value} onChange={props.onChange}>
      <Label>{props.label}</Label>
      <Input />
    </TextField>
  );
}
