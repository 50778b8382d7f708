#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "support/folder.hpp"

namespace leastwise::cli_test {

/// What a run of the tool left behind.
struct Ran {
  int exit_code = -1;  ///< 128 + signal when a signal ended it
  std::string out{};
  std::string err{};
};

/// Where standard output of the tool goes.
enum class StandardOutput { captured, terminal, closed, full, broken_pipe };

struct Run {
  std::vector<std::string> arguments{};
  std::string input{};                     ///< what the tool reads from standard input
  std::vector<std::string> environment{};  ///< `NAME=value`, on top of a bare environment
  StandardOutput output = StandardOutput::captured;
  std::optional<double> interrupt_after_s{};        ///< send what Ctrl-C sends
  std::optional<std::size_t> largest_file_bytes{};  ///< a disk that is full after so much
  std::optional<std::size_t> most_memory_bytes{};   ///< of address space
};

/// Starts the tool, waits for it, and returns both streams and the exit code.
[[nodiscard]] Ran run(const Run& run);
[[nodiscard]] Ran run(std::vector<std::string> arguments);

[[nodiscard]] bool contains(const std::string& text, std::string_view part);

using support::Folder;

}  // namespace leastwise::cli_test
