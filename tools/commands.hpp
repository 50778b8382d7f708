#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::cli {

using Arguments = std::vector<std::string>;

/// One command of the tool. To add one: write its file with one of these, and name it in the table
/// of commands.cpp.
struct Command {
  std::string_view name{};
  std::string_view summary{};  ///< one line for the list of commands
  /// Runs with the arguments after the command's name. Returns an ExitCode. Throws: UsageError,
  /// InputError, WriteError.
  int (*run)(const Arguments& arguments) = nullptr;
};

/// All commands, in the order in which `--help` lists them.
[[nodiscard]] std::span<const Command* const> commands();

/// The command of that name. Throws: UsageError with the nearest name.
[[nodiscard]] const Command& find_command(std::string_view name);

}  // namespace leastwise::cli
