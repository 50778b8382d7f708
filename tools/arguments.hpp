#pragma once
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "commands.hpp"

namespace leastwise::cli {

/// The command line does not make sense; exit code 64. `what()` says why, and what was meant.
class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// What `--help` of a command says, and which arguments it takes.
struct Synopsis {
  std::string_view command{};
  std::string_view operands{};  ///< `FILE`, `[FILE]` or nothing
  std::string_view about{};
  std::string_view examples{};
  bool file_required = false;
  bool many_files = false;
};

/// The arguments of one command after parsing.
struct Parsed {
  boost::program_options::variables_map options{};
  std::optional<std::string> file{};  ///< the first operand
  std::vector<std::string> files{};   ///< all of them
  bool help_asked = false;
};

/// Parses `arguments` against `options` plus `--help`.
/// Throws: UsageError for unknown options (with a suggestion), missing or surplus operands.
[[nodiscard]] Parsed parsed(const Arguments& arguments, const Synopsis& synopsis,
                            const boost::program_options::options_description& options);

/// The help page of a command.
[[nodiscard]] std::string help_page(const Synopsis& synopsis,
                                    const boost::program_options::options_description& options);

/// A number of an option. Throws: UsageError unless it is finite.
[[nodiscard]] double number_of(std::string_view text, std::string_view option);

/// A whole number of an option; nothing when it is not given. The library says which it takes.
/// Throws: UsageError.
[[nodiscard]] std::optional<long> whole_number_of(
    const boost::program_options::variables_map& options, const char* name);

/// A number of an option; nothing when it is not given. Throws: UsageError.
[[nodiscard]] std::optional<double> number_given(
    const boost::program_options::variables_map& options, const char* name);

}  // namespace leastwise::cli
