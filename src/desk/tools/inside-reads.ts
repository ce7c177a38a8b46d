/** What reads stacks and sections off the layers; fetched with the model, on which they are looked at. */
export { drawnLeaves } from '../../core/drawn/drawn-pose.ts';
export { sectionOf } from '../../core/layer/section.ts';
export { layersAt } from '../../core/layer/stacks.ts';
