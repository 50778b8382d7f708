#pragma once
#include <cstddef>
#include <functional>

namespace leastwise::base {

/// Runs `task(0)` to `task(count - 1)`, each once, on at most `threads` threads, this one included;
/// fewer where the system gives no more. No exception ends the program: the first that a task
/// throws keeps the rest from being begun and is thrown here, once every thread has ended.
void in_parallel(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& task);

}  // namespace leastwise::base
