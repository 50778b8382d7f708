#include "output.hpp"

#include <leastwise/question.hpp>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <vector>

#include "arguments.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;

int write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(descriptor, text.data(), text.size());
    if (written < 0 && errno == EINTR) continue;
    if (written < 0) return errno;
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

void fail_to_write(std::string_view path, int error) {
  throw WriteError("cannot write '" + std::string(path) + "': " + std::strerror(error));
}

namespace {

std::string reason(int error) { return std::strerror(error); }

void write_to_standard_output(std::string_view report) {
  const int error = write_all(STDOUT_FILENO, report);
  if (error == EPIPE) throw WriteError("");
  if (error != 0) throw WriteError("cannot write to standard output: " + reason(error));
}

/// While one of these lives, a request to end the program waits: it leaves no passing file behind.
class SignalsHeld {
 public:
  SignalsHeld() {
    sigset_t held;
    ::sigemptyset(&held);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) ::sigaddset(&held, signal);
    ::pthread_sigmask(SIG_BLOCK, &held, &before_);
  }
  SignalsHeld(const SignalsHeld&) = delete;
  SignalsHeld& operator=(const SignalsHeld&) = delete;
  ~SignalsHeld() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }

 private:
  sigset_t before_{};
};

/// A file that exists under a passing name until it is given its own.
class PassingFile {
 public:
  explicit PassingFile(std::filesystem::path target) : target_(std::move(target)) {
    const std::string pattern = (target_.parent_path() / ".leastwise-XXXXXX").string();
    name_.assign(pattern.begin(), pattern.end());
    name_.push_back('\0');
    descriptor_ = ::mkostemp(name_.data(), O_CLOEXEC);
    if (descriptor_ < 0) fail_to_write(target_.string(), errno);
  }
  PassingFile(const PassingFile&) = delete;
  PassingFile& operator=(const PassingFile&) = delete;
  ~PassingFile() {
    if (descriptor_ >= 0) ::close(descriptor_);
    if (!renamed_) ::unlink(name_.data());
  }

  void write(std::string_view text) {
    if (const int error = write_all(descriptor_, text); error != 0)
      fail_to_write(target_.string(), error);
    if (::fchmod(descriptor_, mode()) != 0) fail_to_write(target_.string(), errno);
    if (::fsync(descriptor_) != 0) fail_to_write(target_.string(), errno);
    if (::close(std::exchange(descriptor_, -1)) != 0) fail_to_write(target_.string(), errno);
  }

  void take_its_name() {
    if (::rename(name_.data(), target_.c_str()) != 0) fail_to_write(target_.string(), errno);
    renamed_ = true;
    // The new name survives a loss of power once the folder is on the disk; a file system that
    // cannot do that is no reason to disown the file.
    const int folder = ::open(target_.parent_path().c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (folder < 0) return;
    ::fsync(folder);
    ::close(folder);
  }

 private:
  /// The permissions of the file that is replaced, or those any new file gets.
  [[nodiscard]] mode_t mode() const {
    struct stat status {};
    if (::stat(target_.c_str(), &status) == 0) return status.st_mode & 07777U;
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return 0666U & ~mask;
  }

  std::filesystem::path target_;
  std::vector<char> name_{};
  int descriptor_ = -1;
  bool renamed_ = false;
};

/// Devices and pipes are written into; they are never replaced by a file.
void write_into(const std::string& path, std::string_view report) {
  const int descriptor = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (descriptor < 0) fail_to_write(path, errno);
  const int error = write_all(descriptor, report);
  const int closing = ::close(descriptor) == 0 ? 0 : errno;
  if (error != 0 || closing != 0) fail_to_write(path, error != 0 ? error : closing);
}

void write_file(const std::string& path, std::string_view report) {
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (fs::is_directory(status)) fail_to_write(path, EISDIR);
  if (fs::exists(status) && !fs::is_regular_file(status)) return write_into(path, report);
  fs::path target = fs::exists(status) ? fs::canonical(path, error) : fs::absolute(path, error);
  if (error) fail_to_write(path, error.value());
  const SignalsHeld held;
  PassingFile file(std::move(target));
  file.write(report);
  file.take_its_name();
}

bool colour_by_default() {
  const char* no_color = std::getenv("NO_COLOR");
  const char* terminal = std::getenv("TERM");
  const bool dumb = terminal != nullptr && std::string_view(terminal) == "dumb";
  return ::isatty(STDOUT_FILENO) == 1 && (no_color == nullptr || *no_color == '\0') && !dumb;
}

std::string_view name_of(Format format) {
  switch (format) {
    case Format::json:
      return "json";
    case Format::csv:
      return "csv";
    case Format::html:
      return "html";
    case Format::svg:
      return "svg";
    case Format::text:
      break;
  }
  return "text";
}

/// `text, json, csv or html`.
std::string names_of(std::span<const Format> formats) {
  std::string names;
  for (const Format& format : formats) {
    if (&format != &formats.front()) names += &format == &formats.back() ? " or " : ", ";
    names += name_of(format);
  }
  return names;
}

Format format_of(const std::string& name, std::span<const Format> formats) {
  for (const Format format : formats)
    if (name == name_of(format)) return format;
  const std::string why = name == "svg" ? ": this command has no picture to draw" : "";
  throw UsageError("--format expects " + names_of(formats) + ", found '" + name + "'" + why);
}

Paper paper_of(const std::string& name) {
  if (name == "a4") return Paper::a4;
  if (name == "letter") return Paper::letter;
  throw UsageError("--paper expects a4 or letter, found '" + name + "'");
}

bool colour_of(const std::string& when, bool to_file) {
  if (when == "always") return true;
  if (when == "never") return false;
  if (when == "auto") return !to_file && colour_by_default();
  throw UsageError("--colour expects auto, always or never, found '" + when + "'");
}

}  // namespace

void Output::write(std::string_view report) const {
  if (path) {
    write_file(*path, report);
  } else {
    write_to_standard_output(report);
  }
}

void add_output_options(po::options_description& options, std::span<const Format> formats) {
  if (!formats.empty()) {
    options.add_options()("format", po::value<std::string>()->value_name("NAME"),
                          (names_of(formats) + "; default: text").c_str());
    options.add_options()("paper", po::value<std::string>()->value_name("NAME"),
                          "a4 (default) or letter, for html");
    options.add_options()("colour", po::value<std::string>()->value_name("WHEN"),
                          "auto (default), always or never; auto respects NO_COLOR");
  }
  options.add_options()(
      "output", po::value<std::string>()->value_name("PATH"),
      "write the report to PATH instead of standard output ('-'); the file appears "
      "whole or not at all");
}

Output output_of(const po::variables_map& options, std::span<const Format> formats) {
  Output output;
  if (options.count("output") > 0) output.path = options["output"].as<std::string>();
  if (output.path && output.path->empty()) throw UsageError("--output expects a path");
  if (output.path == "-") output.path.reset();  // as `-` is standard input for FILE
  if (options.count("format") > 0)
    output.format = format_of(options["format"].as<std::string>(), formats);
  if (options.count("paper") > 0) output.paper = paper_of(options["paper"].as<std::string>());
  const std::string when =
      options.count("colour") > 0 ? options["colour"].as<std::string>() : std::string("auto");
  output.colour = colour_of(when, output.path.has_value());
  return output;
}

void add_table_option(po::options_description& options) {
  std::string about = "one list of the answer, for csv: ";
  for (const auto name : blend_tables())
    about += std::string(name == blend_tables().front()  ? ""
                         : name == blend_tables().back() ? " or "
                                                         : ", ") +
             std::string(name);
  options.add_options()("table", po::value<std::string>()->value_name("NAME"), about.c_str());
}

std::optional<BlendTable> table_of(const po::variables_map& options, const Output& output) {
  if (options.count("table") == 0) return std::nullopt;
  const auto& name = options["table"].as<std::string>();
  if (output.format != Format::csv) throw UsageError("--table needs --format csv");
  if (const auto table = blend_table(name)) return table;
  const std::vector<std::string> known(blend_tables().begin(), blend_tables().end());
  std::string list;
  for (const auto& one : known)
    list += (list.empty() ? "" : &one == &known.back() ? " or " : ", ") + one;
  throw UsageError("--table expects " + list + ", found '" + name + "'" +
                   did_you_mean(name, known));
}

bool are_one_file(const std::string& a, const std::string& b) {
  namespace fs = std::filesystem;
  std::error_code error;
  const fs::file_status status = fs::status(a, error);
  if (fs::exists(status)) return fs::is_regular_file(status) && fs::equivalent(a, b, error);
  const fs::path whole = fs::weakly_canonical(fs::absolute(a, error), error);
  return !error && whole == fs::weakly_canonical(fs::absolute(b, error), error);
}

void keep_input(const std::string& input, const po::variables_map& options) {
  const std::string file = input == "-" ? "/dev/stdin" : input;
  for (const char* name : {"output", "proof"}) {
    if (options.count(name) == 0) continue;
    const auto& path = options[name].as<std::string>();
    if (path != "-" && are_one_file(path, file))
      throw UsageError("--" + std::string(name) + " names '" + path +
                       "', which is read; write to another file");
  }
}

void secure_standard_streams() {
  for (const int descriptor : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (::fcntl(descriptor, F_GETFD) != -1) continue;
    // Opened for reading, standard output still fails when written to, as it must.
    const int mode = descriptor == STDERR_FILENO ? O_WRONLY : O_RDONLY;
    if (::open("/dev/null", mode) != descriptor) std::abort();
  }
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
}

void complain(std::string_view text) { static_cast<void>(write_all(STDERR_FILENO, text)); }

}  // namespace leastwise::cli
