#pragma once
#include <functional>
#include <string_view>

namespace leastwise {

/// How far a call that may take long has come.
struct Progress {
  std::string_view of{};  ///< what is counted: `linear programs`, `blends`, `lines`, `treatments`
  long done = 0;          ///< so far
  long all = 0;           ///< how many there will be; 0: not known beforehand
};

/// Told after every step, on the thread of the call unless the call says otherwise. It should
/// return soon and must not throw; it changes nothing about the answer. The library itself prints
/// nothing.
using ProgressCallback = std::function<void(const Progress&)>;

}  // namespace leastwise
