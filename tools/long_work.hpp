#pragma once
#include <leastwise/progress.hpp>

#include <chrono>
#include <mutex>
#include <stop_token>
#include <string>
#include <thread>

namespace leastwise::cli {

/// Work that may take long. While one of these lives, Ctrl-C (and a request to terminate) asks to
/// stop instead of ending the program; a second one ends it. After a second of work, on a terminal
/// only, a line on standard error says how far it is; it is rewritten in place and wiped at the
/// end. At most one at a time.
class LongWork {
 public:
  LongWork();
  LongWork(const LongWork&) = delete;
  LongWork& operator=(const LongWork&) = delete;
  ~LongWork() { end(); }

  [[nodiscard]] std::stop_token token() const { return source_.get_token(); }
  /// What the library is to tell; it may not be used once this has ended.
  [[nodiscard]] ProgressCallback progress();

  /// Wipes the line and gives Ctrl-C back its usual meaning: before anything else is printed.
  void end();

 private:
  void watch();
  void tell(const Progress& progress);
  void show();
  void wipe();
  [[nodiscard]] std::string line();

  std::stop_source source_{};
  std::thread watcher_{};
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
  std::size_t shown_ = 0;  ///< letters of the line that stands on the terminal

  std::mutex mutex_{};  ///< guards what follows
  long solved_ = 0;     ///< linear programs
  long done_ = 0;
  long all_ = 0;  ///< 0: nothing with a known number was told of
  std::string of_{};
};

}  // namespace leastwise::cli
