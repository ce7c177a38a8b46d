/** Title, place and credit of the lesson, as the teacher states them. */
import { Checkbox, CheckboxGroup, Input, Label, Radio, RadioGroup, TextField } from 'react-aria-components';
import { type Credit, permissions, uses } from '../core/lesson/lesson.ts';
import { editLesson } from './edits.ts';
import { ShelfPanel } from './shelf-panel.tsx';
import { useStore } from './store.ts';
import { words } from './words.ts';

const credited = (change: Partial<Credit>, what: string) =>
  editLesson(`credit ${what}`, (lesson) => ({ ...lesson, credit: { ...lesson.credit, ...change } }), true);

export function CreditPanel() {
  const lesson = useStore((state) => state.lesson);
  if (!lesson) return null;
  const { credit } = lesson;
  return (
    <ShelfPanel panel="about" title={words.aboutLesson}>
      <div className="credit">
        <Text
          label={words.lessonTitle}
          value={lesson.title}
          onChange={(title) => editLesson('title', (one) => ({ ...one, title }), true)}
        />
        <Text
          label={words.lessonPlace}
          value={lesson.place}
          onChange={(place) => editLesson('place', (one) => ({ ...one, place }), true)}
        />
        <Text
          label={words.creditMaker}
          value={credit.maker}
          onChange={(maker) => credited({ maker }, 'maker')}
        />
        <Text
          label={words.creditSource}
          value={credit.source ?? ''}
          onChange={(source) => credited({ source }, 'source')}
        />
        <RadioGroup
          className="choice"
          value={credit.permission ?? 'unknown'}
          onChange={(permission) =>
            credited({ permission: permission as Credit['permission'] }, 'permission')
          }
        >
          <Label>{words.permission}</Label>
          <div className="choice-row choice-many">
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
          onChange={(chosen) => credited({ allowed: uses.filter((one) => chosen.includes(one)) }, 'allowed')}
        >
          <Label>{words.allowed}</Label>
          <div className="choice-row choice-many">
            {uses.map((one) => (
              <Checkbox key={one} value={one} className="choice-one">
                {words.uses[one]}
              </Checkbox>
            ))}
          </div>
        </CheckboxGroup>
        <Text
          label={words.creditDate}
          value={credit.date ?? ''}
          onChange={(date) => credited({ date }, 'date')}
        />
        <Text
          label={words.creditStatus}
          value={credit.status}
          onChange={(status) => credited({ status }, 'status')}
        />
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
