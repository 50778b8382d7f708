#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <stop_token>
#include <string>

namespace leastwise::cli {

/// The lines of a file or a pipe, one after the other, in a small part of memory.
class LineReader {
 public:
  /// Opens `file`; `-` is standard input. A line longer than `most` bytes is cut after one more.
  /// Throws: InputError.
  LineReader(const std::string& file, std::size_t most, std::stop_token stop = {});
  LineReader(const LineReader&) = delete;
  LineReader& operator=(const LineReader&) = delete;
  ~LineReader();

  /// The next line, without its end; nothing at the end, or once somebody asked to stop.
  /// Throws: InputError when the file cannot be read.
  [[nodiscard]] std::optional<std::string> next();
  /// Whether the last line had an end.
  [[nodiscard]] bool whole() const { return whole_; }
  /// How many bytes the lines that were handed out take in the file, with their ends.
  [[nodiscard]] std::size_t bytes() const { return bytes_; }

 private:
  [[nodiscard]] bool fill();

  std::string file_;
  std::size_t most_;
  std::stop_token stop_;
  int descriptor_ = -1;
  std::array<char, std::size_t{1} << 16U> part_{};
  std::size_t from_ = 0;
  std::size_t to_ = 0;
  std::size_t bytes_ = 0;
  bool whole_ = false;
};

}  // namespace leastwise::cli
