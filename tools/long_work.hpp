#pragma once
#include <leastwise/outcome.hpp>
#include <leastwise/progress.hpp>

#include <boost/program_options/variables_map.hpp>
#include <chrono>
#include <mutex>
#include <optional>
#include <stdexcept>
#include <stop_token>
#include <string>
#include <thread>

namespace leastwise::cli {

/// Time was up, or somebody asked to stop, before all input was read; exit code 3.
class ReadingStopped : public std::runtime_error {
 public:
  ReadingStopped(StopCause cause, const std::string& what)
      : std::runtime_error(what), cause_(cause) {}
  [[nodiscard]] StopCause cause() const noexcept { return cause_; }

 private:
  StopCause cause_;
};

/// The work of a command from its first look at a file on. While one of these lives, Ctrl-C (and a
/// request to terminate) asks to stop instead of ending the program; a second one ends it; and the
/// clock of `--time-limit` runs. After a second of work, on a terminal only, a line on standard
/// error says how far it is; it is rewritten in place and wiped at the end. At most one at a time.
class LongWork {
 public:
  /// Under the `--time-limit` of `options`. Throws: UsageError.
  explicit LongWork(const boost::program_options::variables_map& options);
  LongWork(const LongWork&) = delete;
  LongWork& operator=(const LongWork&) = delete;
  ~LongWork() { end(); }

  /// What a call into the library may still take. It may not be used once this has ended.
  [[nodiscard]] SolveOptions limits();
  /// Set when somebody asked to stop or the time is up: for reading, which has nothing to show. No
  /// limit cuts the first fifth of a second.
  [[nodiscard]] std::stop_token reading() const { return reading_.get_token(); }
  /// All that a pipe or a device gives, or a little more than the library reads of one file.
  /// Throws: ReadingStopped when that does not come in time, std::system_error.
  [[nodiscard]] std::string all_of(int descriptor) const;
  /// Throws ReadingStopped, which says why: after the library did not read to the end.
  [[noreturn]] void leave_reading() const;

  /// Wipes the line and gives Ctrl-C back its usual meaning: before anything else is printed.
  void end();

 private:
  using Clock = std::chrono::steady_clock;
  void watch();
  void tell(const Progress& progress);
  void show();
  void wipe();
  [[nodiscard]] std::string line();
  /// Milliseconds until reading is to end, as `poll` takes them; -1 for never.
  [[nodiscard]] int reading_time_left() const;

  Clock::time_point start_ = Clock::now();
  std::optional<Clock::time_point> deadline_{};
  std::stop_source source_{};
  std::stop_source reading_{};
  std::thread watcher_{};
  std::size_t shown_ = 0;  ///< letters of the line that stands on the terminal

  std::mutex mutex_{};  ///< guards what follows
  long solved_ = 0;     ///< linear programs
  long done_ = 0;
  long all_ = 0;  ///< 0: nothing with a known number was told of
  std::string of_{};
};

}  // namespace leastwise::cli
