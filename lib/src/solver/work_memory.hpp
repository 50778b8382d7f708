#pragma once

namespace leastwise::solver {

/// Sees to it that a linear program can be solved in the memory there is, and fast.
///
/// CLP ends the process when it finds no memory, so what it will need is taken and freed before:
/// throws std::bad_alloc when it cannot be had. That has a second effect. CLP takes its work areas
/// anew for each solve and frees them after it; glibc gives them back to the system each time,
/// which costs a small solve several times what the solve itself takes. How much it keeps follows
/// the largest block that was mapped and freed (`mallopt(3)`, "dynamic mmap threshold"), which is
/// this one. A program that has set its own thresholds keeps them.
void require_work_memory();

}  // namespace leastwise::solver
