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

/// `; did you mean 'blend'?` for the nearest of `known` within two edits; otherwise nothing.
[[nodiscard]] std::string did_you_mean(std::string_view word,
                                       const std::vector<std::string>& known);

/// A number of an option. Throws: UsageError unless it is finite.
[[nodiscard]] double number_of(std::string_view text, std::string_view option);

}  // namespace leastwise::cli
