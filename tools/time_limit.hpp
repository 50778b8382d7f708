#pragma once
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <chrono>
#include <optional>
#include <stop_token>
#include <string>
#include <thread>

namespace leastwise::cli {

/// Adds `--time-limit`.
void add_time_limit(boost::program_options::options_description& options);
/// Adds it for a command that has nothing to show before its end.
void add_reading_limit(boost::program_options::options_description& options);
/// Reads it; nothing where the command has no such option. Throws: UsageError.
[[nodiscard]] std::optional<std::chrono::duration<double>> time_limit_of(
    const boost::program_options::variables_map& options);

/// The time that reading may take: asks the library to stop when it is over.
class ReadingLimit {
 public:
  explicit ReadingLimit(std::optional<std::chrono::duration<double>> limit);
  ReadingLimit(const ReadingLimit&) = delete;
  ReadingLimit& operator=(const ReadingLimit&) = delete;
  ~ReadingLimit() = default;

  [[nodiscard]] std::stop_token token() const { return source_.get_token(); }
  /// All of standard input. Throws: LoadStopped when the time is over before its end.
  [[nodiscard]] std::string standard_input() const;

 private:
  /// Milliseconds until the time is over, as `poll` takes them.
  [[nodiscard]] int patience() const;

  std::optional<std::chrono::steady_clock::time_point> end_{};
  std::stop_source source_{};
  std::jthread timer_{};  ///< the last: it ends before what it works on
};

}  // namespace leastwise::cli
