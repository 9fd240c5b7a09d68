// Medians and tables of what was measured.

const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))]!;

/** One row of a table: what was measured, by project. */
export type Figures = Map<string, Map<string, readonly number[]>>;

export function note(figures: Figures, what: string, project: string, values: readonly number[]): void {
  const row = figures.get(what) ?? new Map<string, readonly number[]>();
  figures.set(what, row.set(project, values));
}

const cell = (values: readonly number[]): string => {
  const sorted = [...values].sort((a, b) => a - b);
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return [quantile(sorted, 0.5), quantile(sorted, 0.9), mean]
    .map((value) => value.toFixed(value < 100 ? 1 : 0).padStart(7))
    .join('')
    .concat(`  (${values.length})`);
};

/** Median, 90th percentile, mean and the number of measurements, for every project. */
export function printFigures(figures: Figures): void {
  for (const [what, byProject] of figures) {
    console.log(`\n${what}`);
    for (const [project, values] of byProject)
      if (values.length > 0) console.log(`  ${project.padEnd(30)}${cell(values)}`);
  }
}

export function printTable(rows: readonly (readonly string[])[]): void {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  for (const row of rows)
    console.log(
      `  ${row.map((text, i) => (i === 0 ? text.padEnd(widths[i]!) : text.padStart(widths[i]!))).join('  ')}`,
    );
}
