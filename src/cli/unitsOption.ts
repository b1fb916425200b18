import { Option } from 'commander';

/** `--units`, alike in every command: what people read, in metric or US units; files of numbers keep to millimetres and grams. */
export function unitsOption(): Option {
  return new Option('--units <system>', 'units that people read; JSON keeps to millimetres and grams')
    .choices(['metric', 'us'])
    .default('metric');
}
