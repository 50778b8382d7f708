#pragma once
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "line_reader.hpp"

namespace leastwise::cli {

/// Answers that are written while they come: to standard output, to a device, or to a file. A file
/// grows under the name `PATH.partial` and gets its own name when it is whole.
class GrowingFile {
 public:
  /// The most bytes of an answer that are read.
  static constexpr std::size_t longest_line = std::size_t{64} << 20U;

  /// Nothing: standard output. Throws: WriteError; UsageError when another run writes there.
  explicit GrowingFile(std::optional<std::string> path);
  GrowingFile(const GrowingFile&) = delete;
  GrowingFile& operator=(const GrowingFile&) = delete;
  ~GrowingFile();

  /// Keeps the lines that are there already, as long as `keeps` agrees to one after the other; what
  /// follows, such as half a line, is cut off. Returns: how many lines are kept.
  [[nodiscard]] long resume(const std::function<bool(const std::string&)>& keeps);
  /// Throws: WriteError.
  void write(std::string_view lines);
  /// Gives the file its name. Throws: WriteError.
  void finish();
  /// Leaves nothing behind.
  void discard();
  /// The name it grows under; nothing where there is no file.
  [[nodiscard]] const std::string& partial() const { return partial_; }

 private:
  std::string path_{};
  std::string partial_{};
  int descriptor_ = 1;
};

}  // namespace leastwise::cli
