/** Title and place of a lesson's file, without opening it; empty where the text is no lesson. */
export function titleAndPlace(text: string): { title: string; place: string } {
  try {
    const { title, place } = JSON.parse(text) as { title?: unknown; place?: unknown };
    return { title: typeof title === 'string' ? title : '', place: typeof place === 'string' ? place : '' };
  } catch {
    return { title: '', place: '' };
  }
}
