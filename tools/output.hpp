#pragma once
#include <leastwise/report.hpp>

#include <array>
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>

namespace leastwise::cli {

/// The report could not be written; exit code 74. An empty `what()` asks for silence: the reader
/// at the other end of the pipe has gone, and knows.
class WriteError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// What a command can print; a command without pictures has nothing to draw as SVG.
inline constexpr std::array with_pictures{Format::text, Format::json, Format::csv, Format::html,
                                          Format::svg};
inline constexpr std::array without_pictures{Format::text, Format::json, Format::csv, Format::html};

/// How and where to a report goes.
struct Output {
  Format format = Format::text;
  bool colour = false;
  Paper paper = Paper::a4;            ///< for html
  std::optional<std::string> path{};  ///< nothing: standard output

  /// Writes all of `report`. A file appears whole or not at all; an older one stays until then.
  /// Throws: WriteError.
  void write(std::string_view report) const;
};

/// The report of `answer` as asked for; `source` is what the page calls its file.
template <class Reported>
[[nodiscard]] std::string report_of(const Reported& answer, const Output& output,
                                    std::string source = {}) {
  return render(answer, output.format,
                {.colour = output.colour, .paper = output.paper, .source = std::move(source)});
}

/// Adds `--output`, and where there are `formats` also `--format`, `--paper` and `--colour`.
void add_output_options(boost::program_options::options_description& options,
                        std::span<const Format> formats = with_pictures);

/// Reads what `add_output_options` added for the same formats. Throws: UsageError.
[[nodiscard]] Output output_of(const boost::program_options::variables_map& options,
                               std::span<const Format> formats = with_pictures);

/// Adds `--table`, which csv prints one list with.
void add_table_option(boost::program_options::options_description& options);
/// Reads it; nothing when it is not given. Throws: UsageError.
[[nodiscard]] std::optional<BlendTable> table_of(
    const boost::program_options::variables_map& options, const Output& output);

/// Whether writing to one would destroy the other: one regular file, there already or not.
[[nodiscard]] bool are_one_file(const std::string& a, const std::string& b);

/// Refuses to write over `input`, a file that is read; `-` is standard input. Throws: UsageError.
void keep_input(const std::string& input, const boost::program_options::variables_map& options);

/// Gives the three standard streams a place to fail or to be lost in where the caller closed them,
/// so that no file opened later is mistaken for one of them; and ignores the signals of a broken
/// pipe and of a file that may not grow: writing then fails.
void secure_standard_streams();

/// Throws: WriteError, that `path` cannot be written, for the reason that has the number `error`.
[[noreturn]] void fail_to_write(std::string_view path, int error);

/// Writes everything to a descriptor. Returns: 0, or the error number.
[[nodiscard]] int write_all(int descriptor, std::string_view text);

/// Writes to standard error; failures there have nobody to be told to.
void complain(std::string_view text);

}  // namespace leastwise::cli
