#include "time_limit.hpp"

#include <boost/program_options/value_semantic.hpp>
#include <string>

#include "arguments.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

void add(po::options_description& options, const char* about) {
  options.add_options()("time-limit", po::value<std::string>()->value_name("SECONDS"), about);
}

}  // namespace

void add_time_limit(po::options_description& options) {
  add(options, "stop after so long with what is proved by then, exit code 3");
}

void add_reading_limit(po::options_description& options) {
  add(options, "stop after so long, exit code 3");
}

std::optional<Seconds> time_limit_of(const po::variables_map& options) {
  if (options.count("time-limit") == 0) return std::nullopt;
  const double seconds = number_of(options["time-limit"].as<std::string>(), "--time-limit");
  if (seconds <= 0) throw UsageError("--time-limit expects more than 0 seconds");
  return Seconds(seconds);
}

}  // namespace leastwise::cli
