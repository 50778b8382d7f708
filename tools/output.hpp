#pragma once
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

namespace leastwise::cli {

/// The report could not be written; exit code 74. An empty `what()` asks for silence: the reader
/// at the other end of the pipe has gone, and knows.
class WriteError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

enum class Format { text, json, csv };

/// How and where to a report goes.
struct Output {
  Format format = Format::text;
  bool colour = false;
  std::optional<std::string> path{};  ///< nothing: standard output

  /// Writes all of `report`. A file appears whole or not at all; an older one stays until then.
  /// Throws: WriteError.
  void write(std::string_view report) const;
};

/// Adds `--output`, and with `formats` also `--format` and `--colour`.
void add_output_options(boost::program_options::options_description& options, bool formats = true);

/// Reads what `add_output_options` added. Throws: UsageError.
[[nodiscard]] Output output_of(const boost::program_options::variables_map& options);

/// Gives the three standard streams a place to fail or to be lost in where the caller closed them,
/// so that no file opened later is mistaken for one of them; and ignores the broken-pipe signal.
void secure_standard_streams();

/// Writes to standard error; failures there have nobody to be told to.
void complain(std::string_view text);

}  // namespace leastwise::cli
