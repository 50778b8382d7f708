#pragma once
#include <leastwise/diagnostic.hpp>

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

inline constexpr std::size_t most_bytes = std::size_t{16} << 20U;  ///< of one file: 16 MiB

/// A text split into lines, LF at their ends, without a byte order mark; or why there is none.
struct TextFile {
  std::string text{};
  std::vector<std::string> lines{};
  std::string_view code{};  ///< of what is wrong; empty when the text may be used
  std::string problem{};    ///< reads on after the name of the file: `does not exist`
  int line = 0;             ///< where in the text, 0 for the file as a whole
  int column = 0;

  [[nodiscard]] bool good() const { return code.empty(); }
};

/// Reads a file of UTF-8 text, at most `most_bytes` long.
[[nodiscard]] TextFile read_text_file(const std::filesystem::path& path);

/// The same for a file that another one names: not from a pipe or a device, which may never end.
[[nodiscard]] TextFile read_named_file(const std::filesystem::path& path);

/// Checks and splits a text that is in memory already.
[[nodiscard]] TextFile split_text(std::string_view text);

/// What is wrong with the text of `name`, which is not good.
[[nodiscard]] Diagnostic fault_of(const std::string& name, const TextFile& file);

}  // namespace leastwise
