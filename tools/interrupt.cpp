#include "interrupt.hpp"

#include <fcntl.h>
#include <poll.h>
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

/// A signal handler may do little more than write to a pipe; a thread reads its other end.
int read_end = -1;
int write_end = -1;

void write_byte(char byte) {
  const int saved = errno;
  [[maybe_unused]] const ssize_t written = ::write(write_end, &byte, 1);
  errno = saved;
}

extern "C" void leastwise_on_signal(int) { write_byte(asked_to_stop); }

}  // namespace

Interrupt::Interrupt() {
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

Interrupt::~Interrupt() {
  for (const int signal : signals) std::signal(signal, SIG_DFL);
  write_byte(work_done);
  watcher_.join();
  ::close(read_end);
  ::close(write_end);
}

void Interrupt::watch() {
  pollfd ready{read_end, POLLIN, 0};
  if (::poll(&ready, 1, long_work_ms) == 0 && ::isatty(STDERR_FILENO) == 1) {
    complain("searching; Ctrl-C stops and shows the best blend so far\n");
  }
  char byte = 0;
  while (::read(read_end, &byte, 1) < 0 && errno == EINTR) {
  }
  if (byte != asked_to_stop) return;
  source_.request_stop();
  while (byte != work_done && (::read(read_end, &byte, 1) > 0 || errno == EINTR)) {
  }
}

}  // namespace leastwise::cli
