/** A file that takes its time is told of, and can be stopped. */
import { Button } from 'react-aria-components';
import { words } from '../../words/words.ts';
import { desk, useDesk } from '../desk.ts';
import './reading-now.css';

export default function ReadingNow() {
  const reading = useDesk((state) => state.opening.reading);
  return (
    reading && (
      <div className="notice reading-now" data-testid="reading">
        <span className="reading-mark" aria-hidden="true" />
        <p>
          {words.readingFile(reading.name)} <small>{words.readingStages[reading.stage]}</small>
        </p>
        <Button className="quiet-button" onPress={desk.opening.leave}>
          {words.readingStop}
        </Button>
      </div>
    )
  );
}
