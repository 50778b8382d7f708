#include "landscape_input.hpp"

#include <algorithm>

namespace leastwise::cli {
namespace {

ExitCode code(const Formulation& answer) { return code_for(answer.status()); }

ExitCode code(const RoundedBlend& blend) {
  if (blend.outcome.status != Status::optimal) return code_for(blend.outcome.status);
  if (blend.feasible) return blend_found;
  return blend.proved ? infeasible : stopped;
}

ExitCode code(const Comparison& comparison) {
  const auto with = [&](Status status) {
    return std::ranges::any_of(comparison.lines, [status](const ComparedScenario& line) {
      return line.answer.status() == status;
    });
  };
  if (with(Status::stopped)) return stopped;
  return with(Status::optimal) ? blend_found : infeasible;
}

/// Of a map or a list, which says how it ended.
template <class Listed>
ExitCode code(const Listed& answer) {
  return code_for(answer.outcome.status);
}

}  // namespace

namespace {

/// `; write urea=300:600` for a range with another sign between its ends.
std::string range_advice(const std::string& name, const std::string& range) {
  const std::size_t sign = range.find_first_of("-,;", 1);
  if (sign == std::string::npos || sign + 1 == range.size()) return {};
  std::string ends = range;
  ends[sign] = ':';
  return "; write " + name + "=" + ends;
}

}  // namespace

NamedRange named_range(const std::string& text, std::string_view option) {
  const std::size_t equals = text.rfind('=');
  NamedRange named{text.substr(0, equals), {}};
  if (named.name.empty())
    throw UsageError(std::string(option) + " expects a name, found '" + text + "'");
  if (equals == std::string::npos) return named;
  const std::string range = text.substr(equals + 1);
  const std::size_t colon = range.find(':');
  if (colon == std::string::npos)
    throw UsageError(std::string(option) + " expects NAME=FROM:TO, found '" + text + "'" +
                     range_advice(named.name, range));
  named.range = Limits{number_of(std::string_view(range).substr(0, colon), option),
                       number_of(std::string_view(range).substr(colon + 1), option)};
  return named;
}

ExitCode code_for(Status status) {
  switch (status) {
    case Status::optimal:
      return blend_found;
    case Status::infeasible:
      return infeasible;
    case Status::stopped:
      break;
  }
  return stopped;
}

ExitCode code_after(const Answer& answer) {
  return std::visit([](const auto& one) { return code(one); }, answer);
}

std::string spelled(std::string_view option) {
  if (option == "risk") return "the uncertainty of prices";
  std::string text = "--" + std::string(option);
  std::ranges::replace(text, '_', '-');
  return text;
}

std::string report_of(const Answer& answer, const Output& output, std::optional<BlendTable> table) {
  if (table) {
    if (const auto* blend = std::get_if<Formulation>(&answer)) return to_csv(*blend, *table);
    if (const auto* lines = std::get_if<Comparison>(&answer)) return to_csv(*lines, *table);
  }
  return std::visit([&](const auto& one) { return report_of(one, output); }, answer);
}

int answered(const Scenario& scenario, const Question& question, const Output& output,
             LongWork& work, std::optional<BlendTable> table) {
  const Answer answer = asked([&] { return ask(scenario, question, work.limits()); });
  work.end();
  output.write(report_of(answer, output, table));
  return code_after(answer);
}

}  // namespace leastwise::cli
