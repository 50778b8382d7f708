#pragma once

namespace leastwise::solver {

/// Lets freed memory stay with the process for the next solve; once is enough.
///
/// CLP takes its work areas anew for each solve and frees them after it. glibc gives them back to
/// the system each time, which costs a small solve ten times what the solve itself takes. How much
/// it keeps follows the largest block that was mapped and freed (`mallopt(3)`, "dynamic mmap
/// threshold"); so one such block is taken and freed here. A program that has set its own
/// thresholds keeps them, and other allocators take no notice.
void keep_freed_memory();

}  // namespace leastwise::solver
