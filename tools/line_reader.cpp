#include "line_reader.hpp"

#include <fcntl.h>
#include <poll.h>
#include <unistd.h>
#include <leastwise/diagnostic.hpp>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

namespace leastwise::cli {
namespace {

constexpr int look_for_stop_ms = 50;  ///< from a pipe, to see whether somebody asked to stop

[[noreturn]] void refuse(const std::string& file, int error) {
  Diagnostic diagnostic;
  diagnostic.code = error == ENOENT ? "file-missing" : "file-unreadable";
  diagnostic.message = "the file '" + file + "' cannot be read: " + std::strerror(error);
  diagnostic.place.source = file;
  throw InputError({std::move(diagnostic)});
}

}  // namespace

LineReader::LineReader(const std::string& file, std::size_t most, std::stop_token stop)
    : file_(file), most_(most), stop_(std::move(stop)) {
  descriptor_ = file == "-" ? STDIN_FILENO : ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor_ < 0) refuse(file, errno);
}

LineReader::~LineReader() {
  if (descriptor_ != STDIN_FILENO) ::close(descriptor_);
}

bool LineReader::fill() {
  while (!stop_.stop_requested()) {
    pollfd ready{descriptor_, POLLIN, 0};
    const int count = ::poll(&ready, 1, look_for_stop_ms);
    if (count == 0) continue;
    const ssize_t size = count < 0 ? -1 : ::read(descriptor_, part_.data(), part_.size());
    if (size < 0 && (errno == EINTR || errno == EAGAIN)) continue;
    if (size < 0) refuse(file_, errno);
    from_ = 0;
    to_ = static_cast<std::size_t>(size);
    return size > 0;
  }
  return false;
}

std::optional<std::string> LineReader::next() {
  std::string line;
  bool any = false;
  whole_ = false;
  while (!whole_ && (from_ < to_ || fill())) {
    any = true;
    const char* start = part_.data() + from_;
    const auto* end = static_cast<const char*>(std::memchr(start, '\n', to_ - from_));
    whole_ = end != nullptr;
    const std::size_t size = whole_ ? static_cast<std::size_t>(end - start) : to_ - from_;
    line.append(start, std::min(size, most_ + 1 - line.size()));
    from_ += size + (whole_ ? 1 : 0);
    bytes_ += size + (whole_ ? 1 : 0);
  }
  if (!any || (!whole_ && stop_.stop_requested())) return std::nullopt;
  return line;
}

}  // namespace leastwise::cli
