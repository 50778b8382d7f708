#include "landscape_input.hpp"

namespace leastwise::cli {

NamedRange named_range(const std::string& text, std::string_view option) {
  const std::size_t equals = text.rfind('=');
  NamedRange named{text.substr(0, equals), {}};
  if (named.name.empty())
    throw UsageError(std::string(option) + " expects a name, found '" + text + "'");
  if (equals == std::string::npos) return named;
  const std::string range = text.substr(equals + 1);
  const std::size_t colon = range.find(':');
  if (colon == std::string::npos)
    throw UsageError(std::string(option) + " expects NAME=FROM:TO, found '" + text + "'");
  named.range = Limits{number_of(std::string_view(range).substr(0, colon), option),
                       number_of(std::string_view(range).substr(colon + 1), option)};
  return named;
}

ExitCode exit_code_of(const Ending& ending) {
  switch (ending.status) {
    case Status::optimal:
      return blend_found;
    case Status::infeasible:
      return infeasible;
    case Status::stopped:
      break;
  }
  return stopped;
}

}  // namespace leastwise::cli
