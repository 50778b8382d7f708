#include "long_work.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <system_error>

#include "output.hpp"

namespace leastwise::cli {
namespace {

constexpr std::array signals{SIGINT, SIGTERM};
constexpr char asked_to_stop = 's';
constexpr char work_done = 'd';
constexpr int long_work_ms = 1000;
constexpr int refresh_ms = 250;

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

LongWork::LongWork() {
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

ProgressCallback LongWork::progress() {
  return [this](const Progress& progress) { tell(progress); };
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
  int patience = terminal ? long_work_ms : -1;
  for (;;) {
    pollfd ready{read_end, POLLIN, 0};
    const int count = ::poll(&ready, 1, patience);
    if (count == 0) {
      show();
      patience = refresh_ms;
      continue;
    }
    char byte = 0;
    if (count < 0 || ::read(read_end, &byte, 1) < 0) continue;  // interrupted: once more
    if (byte == work_done) break;
    source_.request_stop();
  }
  wipe();
}

}  // namespace leastwise::cli
