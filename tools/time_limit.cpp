#include "time_limit.hpp"

#include <leastwise/load.hpp>

#include <poll.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <boost/program_options/value_semantic.hpp>
#include <cerrno>
#include <condition_variable>
#include <limits>
#include <mutex>
#include <system_error>

#include "arguments.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

using Seconds = std::chrono::duration<double>;
using std::chrono::steady_clock;

constexpr Seconds for_ever{1e8};  // a clock cannot count to any number of seconds

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

ReadingLimit::ReadingLimit(std::optional<Seconds> limit) {
  if (!limit) return;
  end_ = steady_clock::now() +
         std::chrono::duration_cast<steady_clock::duration>(std::min(*limit, for_ever));
  timer_ = std::jthread([this](const std::stop_token& done) {
    std::mutex mutex;
    std::condition_variable_any wake;
    std::unique_lock lock(mutex);
    wake.wait_until(lock, done, *end_, [] { return false; });
    if (!done.stop_requested()) source_.request_stop();
  });
}

int ReadingLimit::patience() const {
  if (!end_) return -1;
  const auto left = std::chrono::ceil<std::chrono::milliseconds>(*end_ - steady_clock::now());
  return static_cast<int>(std::clamp<long long>(left.count(), 0, std::numeric_limits<int>::max()));
}

std::string ReadingLimit::standard_input() const {
  std::string text;
  std::array<char, std::size_t{1} << 16U> part{};
  for (;;) {
    pollfd ready{STDIN_FILENO, POLLIN, 0};
    const int count = ::poll(&ready, 1, patience());
    if (count == 0) throw LoadStopped();
    const ssize_t size = count < 0 ? -1 : ::read(STDIN_FILENO, part.data(), part.size());
    if (size == 0) return text;
    if (size > 0)
      text.append(part.data(), static_cast<std::size_t>(size));
    else if (errno != EINTR)
      throw std::system_error(errno, std::generic_category(), "standard input");
  }
}

}  // namespace leastwise::cli
