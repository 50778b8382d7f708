#include "growing_file.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <utility>

#include "arguments.hpp"
#include "output.hpp"

namespace leastwise::cli {
GrowingFile::GrowingFile(std::optional<std::string> path) {
  if (!path) return;
  namespace fs = std::filesystem;
  path_ = *path;
  std::error_code error;
  const fs::file_status status = fs::status(path_, error);
  if (fs::is_directory(status)) fail_to_write(path_, EISDIR);
  const bool ordinary = !fs::exists(status) || fs::is_regular_file(status);
  if (ordinary) partial_ = path_ + ".partial";
  const std::string& name = ordinary ? partial_ : path_;
  descriptor_ = ::open(name.c_str(), O_RDWR | O_CLOEXEC | (ordinary ? O_CREAT : 0), 0666);
  if (descriptor_ < 0 && !ordinary) descriptor_ = ::open(name.c_str(), O_WRONLY | O_CLOEXEC);
  if (descriptor_ < 0) fail_to_write(name, errno);
  if (ordinary && ::flock(descriptor_, LOCK_EX | LOCK_NB) != 0)
    throw UsageError("another run writes to '" + partial_ + "'");
  // A run that ended in between has given the file another name.
  std::error_code gone;
  if (ordinary && !fs::exists(partial_, gone)) fail_to_write(partial_, ENOENT);
}

GrowingFile::~GrowingFile() {
  if (descriptor_ > STDERR_FILENO) ::close(descriptor_);
}

long GrowingFile::resume(const std::function<bool(const std::string&)>& keeps) {
  long kept = 0;
  std::size_t size = 0;
  {
    LineReader reader(partial_, longest_line);
    for (auto line = reader.next(); line && reader.whole() && keeps(*line); line = reader.next()) {
      ++kept;
      size = reader.bytes();
    }
  }
  if (::ftruncate(descriptor_, static_cast<off_t>(size)) != 0 ||
      ::lseek(descriptor_, 0, SEEK_END) < 0)
    fail_to_write(partial_, errno);
  return kept;
}

void GrowingFile::write(std::string_view lines) {
  if (path_.empty()) {
    Output{}.write(lines);
  } else if (const int error = write_all(descriptor_, lines); error != 0) {
    fail_to_write(path_, error);
  }
}

void GrowingFile::finish() {
  if (partial_.empty()) return;
  if (::fsync(descriptor_) != 0) fail_to_write(partial_, errno);
  if (::rename(partial_.c_str(), path_.c_str()) != 0) fail_to_write(path_, errno);
}

void GrowingFile::discard() {
  if (!partial_.empty()) ::unlink(partial_.c_str());
}

}  // namespace leastwise::cli
