#pragma once
#include <stop_token>
#include <thread>

namespace leastwise::cli {

/// While one of these lives, Ctrl-C (and a request to terminate) asks to stop instead of ending the
/// program; a second one ends it. After a second of work it says on a terminal how to stop.
/// At most one at a time.
class Interrupt {
 public:
  Interrupt();
  Interrupt(const Interrupt&) = delete;
  Interrupt& operator=(const Interrupt&) = delete;
  ~Interrupt();

  [[nodiscard]] std::stop_token token() const { return source_.get_token(); }

 private:
  void watch();

  std::stop_source source_{};
  std::thread watcher_{};
};

}  // namespace leastwise::cli
