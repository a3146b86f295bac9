/** For a machine of two cores and a few gigabytes; durability stays as PostgreSQL has it, stated so that it is seen. */
const defaults: Readonly<Record<string, string>> = {
  fsync: 'on',
  full_page_writes: 'on',
  synchronous_commit: 'on',
  max_connections: '60',
  shared_buffers: '128MB',
  work_mem: '8MB',
  maintenance_work_mem: '64MB',
  min_wal_size: '32MB',
  max_wal_size: '256MB',
  jit: 'off',
  timezone: 'UTC',
  log_timezone: 'UTC',
  lc_messages: 'C',
  password_encryption: 'scram-sha-256',
  log_min_messages: 'warning',
  log_line_prefix: '%m [%p] ',
  // Statements and the details of errors carry what people entered, which does not belong in a log.
  log_min_error_statement: 'panic',
  log_error_verbosity: 'terse',
};

/**
 * Every setting given to the server on its command line. `overrides` wins over the defaults, except over what keeps
 * the server on this machine and its log where it is looked for.
 */
export function serverSettings(port: number, overrides: Readonly<Record<string, string>>): Record<string, string> {
  return {
    ...defaults,
    ...overrides,
    listen_addresses: '127.0.0.1',
    port: String(port),
    unix_socket_directories: '',
    logging_collector: 'off',
    log_destination: 'stderr',
  };
}

/** The arguments of `postgres` for a cluster folder and its settings. */
export function serverArguments(clusterFolder: string, settings: Readonly<Record<string, string>>): string[] {
  return ['-D', clusterFolder, ...Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])];
}
