#pragma once
#include <leastwise/limits.hpp>
#include <leastwise/question.hpp>
#include <leastwise/report.hpp>

#include <optional>
#include <string>
#include <string_view>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "long_work.hpp"
#include "output.hpp"

namespace leastwise::cli {

// What the commands that ask a question share.

/// `NAME` or `NAME=FROM:TO`, as in `urea=300:600`.
struct NamedRange {
  std::string name{};
  std::optional<Limits> range{};
};

/// Throws: UsageError, which names `option`.
[[nodiscard]] NamedRange named_range(const std::string& text, std::string_view option);

/// What an answer makes the tool end with.
[[nodiscard]] ExitCode code_after(const Answer& answer);
[[nodiscard]] ExitCode code_for(Status status);

/// The part of the command line that a question's option came from: `--step-kg` for `step_kg`.
[[nodiscard]] std::string spelled(std::string_view option);

/// Runs `put`; a question that does not fit is a mistake on the command line. Throws: UsageError.
template <class Put>
[[nodiscard]] auto asked(Put put) {
  try {
    return put();
  } catch (const QuestionError& error) {
    throw UsageError(spelled(error.option()) + " " + error.what());
  }
}

/// Asks, ends the work, writes the report. Returns: an ExitCode.
[[nodiscard]] int answered(const Scenario& scenario, const Question& question, const Output& output,
                           LongWork& work, std::optional<BlendTable> table = {});

/// The report of an answer of any kind, or one table of it.
[[nodiscard]] std::string report_of(const Answer& answer, const Output& output,
                                    std::optional<BlendTable> table);

}  // namespace leastwise::cli
