#include "landscape_input.hpp"

#include <boost/program_options/value_semantic.hpp>

namespace leastwise::cli {
namespace po = boost::program_options;

void add_time_limit(po::options_description& options) {
  options.add_options()("time-limit", po::value<std::string>()->value_name("SECONDS"),
                        "stop after so long with what is proved by then, exit code 3");
}

std::optional<std::chrono::duration<double>> time_limit_of(const po::variables_map& options) {
  if (options.count("time-limit") == 0) return std::nullopt;
  const double seconds = number_of(options["time-limit"].as<std::string>(), "--time-limit");
  if (seconds <= 0) throw UsageError("--time-limit expects more than 0 seconds");
  return std::chrono::duration<double>(seconds);
}

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
