#include "scenario_input.hpp"

#include <fcntl.h>
#include <unistd.h>

#include <filesystem>
#include <utility>
#include <vector>

#include "arguments.hpp"
#include "landscape_input.hpp"
#include "output.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

Scenario read(const std::string& file, const po::variables_map& options, const LongWork& work) {
  const LoadOptions how = load_options(options, work);
  const auto text = streamed(file, work);
  try {
    return read_under(work, [&] {
      return text ? parse_scenario(*text, spoken(file), ".", how) : load_scenario(file, how);
    });
  } catch (const std::invalid_argument& error) {
    throw UsageError("--on: " + std::string(error.what()));
  }
}

PriceChange price_of(const std::string& setting) {
  const std::size_t equals = setting.rfind('=');
  if (equals == std::string::npos || equals == 0)
    throw UsageError("--price expects MATERIAL=VALUE, found '" + setting + "'");
  return {setting.substr(0, equals),
          number_of(std::string_view(setting).substr(equals + 1), "--price")};
}

}  // namespace

std::string spoken(const std::string& file) { return file == "-" ? "stdin" : file; }

std::optional<std::string> streamed(const std::string& file, const LongWork& work) {
  if (file == "-") return work.all_of(STDIN_FILENO);
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::file_status status = fs::status(file, error);
  if (!fs::exists(status) || fs::is_regular_file(status) || fs::is_directory(status))
    return std::nullopt;
  // A pipe that nobody writes to opens at once this way, and `all_of` waits.
  const int descriptor = ::open(file.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC);
  if (descriptor < 0) return std::nullopt;
  struct Closer {
    int descriptor;
    ~Closer() { ::close(descriptor); }
  } const closer{descriptor};
  return work.all_of(descriptor);
}

LoadOptions load_options(const po::variables_map& options, const LongWork& work) {
  return {.allow_outside = options.count("allow-outside") > 0,
          .prices_on = options.count("on") > 0 ? options["on"].as<std::string>() : std::string(),
          .plant = options.count("plant") > 0 ? options["plant"].as<std::string>() : std::string(),
          .stop = work.reading(),
          .on_named_file = [&options](const std::filesystem::path& file) {
            keep_input(file.string(), options);
          }};
}

void add_scenario_options(po::options_description& options) {
  options.add_options()(
      "price", po::value<std::vector<std::string>>()->composing()->value_name("MATERIAL=VALUE"),
      "take this price per tonne; may be given many times");
  options.add_options()("on", po::value<std::string>()->value_name("DAY"),
                        "take the prices of this day from a price list with days");
  options.add_options()("plant", po::value<std::string>()->value_name("NAME"),
                        "take the prices delivered to this plant from a price list with plants");
  options.add_options()("allow-outside",
                        "let catalogue: and prices: name files outside the scenario's folder");
}

Scenario scenario_of(const std::string& file, const po::variables_map& options,
                     const LongWork& work) {
  keep_input(file, options);
  Scenario scenario = read(file, options, work);
  if (options.count("price") == 0) return scenario;
  std::vector<PriceChange> prices;
  for (const auto& setting : options["price"].as<std::vector<std::string>>())
    prices.push_back(price_of(setting));
  try {
    return with_prices(scenario, prices);
  } catch (const QuestionError& error) {
    // Of several files it matters which one is meant.
    constexpr std::string_view unnamed = "of the scenario";
    std::string what = error.what();
    if (const auto at = what.find(unnamed); at != std::string::npos)
      what.replace(at, unnamed.size(), "of " + spoken(file));
    throw UsageError("--price " + what);
  }
}

}  // namespace leastwise::cli
