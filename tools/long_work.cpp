#include "long_work.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <limits>
#include <system_error>

#include "output.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace {

constexpr std::array signals{SIGINT, SIGTERM};
constexpr char asked_to_stop = 's';
constexpr char work_done = 'd';
constexpr int long_work_ms = 1000;
constexpr int refresh_ms = 250;
/// An ordinary file is read by then: a shorter limit ends the search, which has something to show.
constexpr std::chrono::milliseconds least_reading{200};
constexpr int look_up_ms = 50;   ///< from a pipe, to see whether somebody asked to stop
constexpr Seconds longest{1e8};  ///< a clock cannot count to any number of seconds
constexpr std::size_t most_bytes = std::size_t{17} << 20U;  ///< more than the library reads

/// A signal handler may do little more than write to a pipe; a thread reads its other end.
int read_end = -1;   // NOLINT(*-avoid-non-const-global-variables)
int write_end = -1;  // NOLINT(*-avoid-non-const-global-variables)

void write_byte(char byte) {
  const int saved = errno;
  [[maybe_unused]] const ssize_t written = ::write(write_end, &byte, 1);
  errno = saved;
}

extern "C" void leastwise_on_signal(int) { write_byte(asked_to_stop); }

/// Columns of the terminal; a longer line would wrap and could not be rewritten.
std::size_t terminal_width() {
  constexpr std::size_t usual = 80;
  winsize size{};
  if (::ioctl(STDERR_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return usual;
  return size.ws_col;
}

}  // namespace

LongWork::LongWork(const boost::program_options::variables_map& options) {
  if (const auto limit = time_limit_of(options))
    deadline_ = start_ + std::chrono::duration_cast<Clock::duration>(std::min(*limit, longest));
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) {
    throw std::system_error(errno, std::generic_category(), "pipe");
  }
  read_end = ends[0];
  write_end = ends[1];
  watcher_ = std::thread([this] { watch(); });
  struct sigaction action {};
  action.sa_handler = leastwise_on_signal;
  action.sa_flags = static_cast<int>(SA_RESETHAND) | SA_RESTART;
  for (const int signal : signals) ::sigaction(signal, &action, nullptr);
}

void LongWork::end() {
  if (!watcher_.joinable()) return;
  for (const int signal : signals) std::signal(signal, SIG_DFL);
  write_byte(work_done);
  watcher_.join();
  ::close(read_end);
  ::close(write_end);
}

SolveOptions LongWork::limits() {
  SolveOptions limits;
  if (deadline_) limits.time_limit = std::max(Seconds(0), Seconds(*deadline_ - Clock::now()));
  limits.stop = source_.get_token();
  limits.progress = [this](const Progress& progress) { tell(progress); };
  return limits;
}

int LongWork::reading_time_left() const {
  if (!deadline_ || reading_.stop_requested()) return -1;
  const auto end = std::max(*deadline_, start_ + least_reading);
  const auto left = std::chrono::ceil<std::chrono::milliseconds>(end - Clock::now());
  return static_cast<int>(std::clamp<long long>(left.count(), 0, std::numeric_limits<int>::max()));
}

void LongWork::leave_reading() const {
  const bool asked = source_.stop_requested();
  throw ReadingStopped(asked ? StopCause::cancelled : StopCause::time_limit,
                       std::string(asked ? "stopped" : "time limit: stopped") +
                           " before it was known whether the input is right");
}

std::string LongWork::all_of(int descriptor) const {
  std::string text;
  std::array<char, std::size_t{1} << 16U> part{};
  while (text.size() < most_bytes) {
    if (reading_.stop_requested()) leave_reading();
    pollfd ready{descriptor, POLLIN, 0};
    const int count = ::poll(&ready, 1, look_up_ms);
    if (count == 0) continue;
    const ssize_t size = count < 0 ? -1 : ::read(descriptor, part.data(), part.size());
    if (size == 0) break;
    if (size > 0)
      text.append(part.data(), static_cast<std::size_t>(size));
    else if (errno != EINTR && errno != EAGAIN)
      throw std::system_error(errno, std::generic_category(), "cannot read the input");
  }
  return text;
}

void LongWork::tell(const Progress& progress) {
  const std::scoped_lock lock(mutex_);
  if (progress.all == 0) {
    ++solved_;
    return;
  }
  of_ = progress.of;
  done_ = progress.done;
  all_ = progress.all;
}

std::string LongWork::line() {
  const auto seconds =
      std::chrono::duration_cast<std::chrono::seconds>(std::chrono::steady_clock::now() - start_);
  std::string text = std::to_string(seconds.count()) + " s";
  const std::scoped_lock lock(mutex_);
  if (all_ > 0) text += ", " + std::to_string(done_) + " of " + std::to_string(all_) + " " + of_;
  if (solved_ > 0) text += ", " + std::to_string(solved_) + " linear programs";
  text += source_.stop_requested() ? "; stopping, Ctrl-C again ends at once"
                                   : "; Ctrl-C stops with what is finished";
  return text;
}

void LongWork::show() {
  std::string text = line().substr(0, terminal_width() - 1);
  const std::size_t length = text.size();
  if (length < shown_) text.append(shown_ - length, ' ');
  complain("\r" + text);
  shown_ = length;
}

void LongWork::wipe() {
  if (shown_ > 0) complain("\r" + std::string(shown_, ' ') + "\r");
  shown_ = 0;
}

void LongWork::watch() {
  const bool terminal = ::isatty(STDERR_FILENO) == 1;
  int stop_check = terminal ? long_work_ms : -1;
  for (;;) {
    pollfd ready{read_end, POLLIN, 0};
    const int left = reading_time_left();
    const bool time_first = left >= 0 && (stop_check < 0 || left <= stop_check);
    const int count = ::poll(&ready, 1, time_first ? left : stop_check);
    if (count == 0 && time_first) {
      if (reading_time_left() == 0) reading_.request_stop();
      continue;
    }
    if (count == 0) {
      show();
      stop_check = refresh_ms;
      continue;
    }
    char byte = 0;
    if (count < 0 || ::read(read_end, &byte, 1) < 0) continue;  // interrupted: once more
    if (byte == work_done) break;
    source_.request_stop();
    reading_.request_stop();
  }
  wipe();
}

}  // namespace leastwise::cli
