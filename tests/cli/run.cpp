#include "run.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <stdexcept>
#include <thread>

namespace leastwise::cli_test {
namespace {

struct Pipe {
  int read = -1;
  int write = -1;
};

Pipe make_pipe() {
  std::array<int, 2> ends{};
  if (::pipe2(ends.data(), O_CLOEXEC) != 0) throw std::runtime_error("no pipe");
  return {ends[0], ends[1]};
}

std::vector<char*> pointers_to(std::vector<std::string>& words) {
  std::vector<char*> pointers;
  for (std::string& word : words) pointers.push_back(word.data());
  pointers.push_back(nullptr);
  return pointers;
}

/// A terminal whose other end we read; it ends lines in CR LF.
Pipe make_terminal() {
  const int master = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
  if (master < 0 || ::grantpt(master) != 0 || ::unlockpt(master) != 0) {
    throw std::runtime_error("no terminal");
  }
  return {master, ::open(::ptsname(master), O_RDWR | O_NOCTTY | O_CLOEXEC)};
}

/// In the child, between fork and exec.
void direct_output(StandardOutput output, const Pipe& captured) {
  if (output == StandardOutput::captured || output == StandardOutput::terminal) {
    ::dup2(captured.write, STDOUT_FILENO);
  } else if (output == StandardOutput::closed) {
    ::close(STDOUT_FILENO);
  } else if (output == StandardOutput::full) {
    ::dup2(::open("/dev/full", O_WRONLY), STDOUT_FILENO);
  } else {
    std::array<int, 2> broken{};
    if (::pipe(broken.data()) != 0) ::_exit(126);
    ::close(broken[0]);
    ::dup2(broken[1], STDOUT_FILENO);
  }
}

void limit_files(const std::optional<std::size_t>& bytes) {
  if (!bytes) return;
  const rlimit limit{*bytes, *bytes};
  ::setrlimit(RLIMIT_FSIZE, &limit);
}

void limit_memory(const std::optional<std::size_t>& most_bytes) {
  if (!most_bytes) return;
  const rlimit limit{*most_bytes, *most_bytes};
  ::setrlimit(RLIMIT_AS, &limit);
}

/// Feeds the input and collects both streams without letting any pipe fill up.
void converse(Pipe& in, Pipe& out, Pipe& err, const std::string& input, Ran& ran) {
  std::thread feeder([&] {
    std::size_t sent = 0;
    while (sent < input.size()) {
      const ssize_t n = ::write(in.write, input.data() + sent, input.size() - sent);
      if (n <= 0) break;
      sent += static_cast<std::size_t>(n);
    }
    ::close(in.write);
  });
  std::array<pollfd, 2> ends{{{out.read, POLLIN, 0}, {err.read, POLLIN, 0}}};
  std::array<std::string*, 2> texts{&ran.out, &ran.err};
  std::array<char, 4096> buffer{};
  while (ends[0].fd >= 0 || ends[1].fd >= 0) {
    ::poll(ends.data(), ends.size(), -1);
    for (std::size_t i = 0; i < ends.size(); ++i) {
      if (ends[i].fd < 0 || ends[i].revents == 0) continue;
      const ssize_t n = ::read(ends[i].fd, buffer.data(), buffer.size());
      if (n > 0) {
        texts[i]->append(buffer.data(), static_cast<std::size_t>(n));
      } else {
        ends[i].fd = -1;
      }
    }
  }
  feeder.join();
  ::close(out.read);
  ::close(err.read);
}

int exit_code_of(int status) {
  return WIFSIGNALED(status) ? 128 + WTERMSIG(status) : WEXITSTATUS(status);
}

/// What sanitizers and profilers are told must reach the tool too.
std::vector<std::string> environment_of(const Run& run) {
  std::vector<std::string> environment = run.environment;
  for (const char* name : {"ASAN_OPTIONS", "UBSAN_OPTIONS", "TSAN_OPTIONS", "LLVM_PROFILE_FILE"}) {
    if (const char* value = std::getenv(name)) {
      environment.push_back(std::string(name) + "=" + value);
    }
  }
  return environment;
}

}  // namespace

Ran run(const Run& run) {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGINT, SIG_DFL);  // a child that is not the tool yet must end of it, too
  std::vector<std::string> words{LEASTWISE_TOOL};
  words.insert(words.end(), run.arguments.begin(), run.arguments.end());
  std::vector<std::string> environment = environment_of(run);
  std::vector<char*> argv = pointers_to(words);
  std::vector<char*> envp = pointers_to(environment);
  Pipe in = make_pipe();
  Pipe out = run.output == StandardOutput::terminal ? make_terminal() : make_pipe();
  Pipe err = make_pipe();
  const pid_t child = ::fork();
  if (child < 0) throw std::runtime_error("no process");
  if (child == 0) {
    ::dup2(in.read, STDIN_FILENO);
    direct_output(run.output, out);
    ::dup2(err.write, STDERR_FILENO);
    limit_files(run.largest_file_bytes);
    limit_memory(run.most_memory_bytes);
    std::signal(SIGPIPE, SIG_DFL);
    ::execve(argv[0], argv.data(), envp.data());
    ::_exit(127);
  }
  for (const int end : {in.read, out.write, err.write}) ::close(end);
  std::thread interrupter;
  if (run.interrupt_after_s) {
    interrupter = std::thread([&] {
      std::this_thread::sleep_for(std::chrono::duration<double>(*run.interrupt_after_s));
      ::kill(child, SIGINT);
    });
  }
  Ran ran;
  converse(in, out, err, run.input, ran);
  if (interrupter.joinable()) interrupter.join();
  int status = 0;
  ::waitpid(child, &status, 0);
  ran.exit_code = exit_code_of(status);
  return ran;
}

Ran run(std::vector<std::string> arguments) { return run(Run{.arguments = std::move(arguments)}); }

bool contains(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

}  // namespace leastwise::cli_test
