#pragma once

namespace leastwise::cli {

/// What the tool returns to the shell. Fixed: scripts rely on it.
enum ExitCode : int {
  blend_found = 0,
  input_rejected = 1,
  infeasible = 2,
  stopped = 3,
  usage = 64,
  internal = 70,     ///< a fault of the tool or of the machine, such as no memory
  not_written = 74,  ///< the report could not be written
};

}  // namespace leastwise::cli
