/** Time that this process has had of the processor, milliseconds: unlike the clock, it does not count other work. */
export function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
