#pragma once
#include <leastwise/ending.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/report.hpp>

#include <optional>
#include <string>
#include <string_view>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "output.hpp"

namespace leastwise::cli {

// What the commands about maps, lists and comparisons share.

/// `NAME` or `NAME=FROM:TO`, as in `urea=300:600`.
struct NamedRange {
  std::string name{};
  std::optional<Limits> range{};
};

/// Throws: UsageError, which names `option`.
[[nodiscard]] NamedRange named_range(const std::string& text, std::string_view option);

[[nodiscard]] ExitCode exit_code_of(const Ending& ending);

/// The report of `answer` in the format asked for.
template <class Answer>
[[nodiscard]] std::string report_of(const Answer& answer, const Output& output) {
  switch (output.format) {
    case Format::json:
      return to_json(answer);
    case Format::csv:
      return to_csv(answer);
    case Format::html:
      return to_html(answer, output.paper);
    case Format::svg:
      return to_svg(answer);
    case Format::text:
      break;
  }
  return to_text(answer, {.colour = output.colour});
}

/// Runs `ask`; what the library calls an impossible question is a mistake on the command line.
template <class Ask>
[[nodiscard]] auto asked(Ask ask) {
  try {
    return ask();
  } catch (const std::out_of_range& error) {
    throw UsageError(error.what());
  } catch (const std::invalid_argument& error) {
    throw UsageError(error.what());
  }
}

}  // namespace leastwise::cli
