#include "input/text_file.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <memory>
#include <system_error>

#include "base/codes.hpp"
#include "base/text/utf8.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

TextFile failed(std::string_view code, std::string problem) {
  TextFile file;
  file.code = code;
  file.problem = std::move(problem);
  return file;
}

unsigned char byte_at(std::string_view text, std::size_t i) {
  return i < text.size() ? static_cast<unsigned char>(text[i]) : 0;
}

bool is_forbidden_control(unsigned char byte) {
  return (byte < 0x20U && byte != '\t' && byte != '\n') || byte == 0x7FU;
}

/// LF for CR LF and for a lone CR.
std::string with_plain_line_ends(std::string_view text) {
  std::string result;
  result.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\r') {
      result += text[i];
    } else if (byte_at(text, i + 1) != '\n') {
      result += '\n';
    }
  }
  return result;
}

std::string control_problem(unsigned char byte) {
  if (byte == 0) return "must be text, found a zero byte";
  constexpr std::string_view digits = "0123456789abcdef";
  return std::string("must be text, found the control character 0x") + digits[byte / 16U] +
         digits[byte % 16U];
}

void check_characters(TextFile& file) {
  int line = 1;
  int column = 1;
  const std::string_view text = file.text;
  for (std::size_t i = 0; i < text.size();) {
    const unsigned char byte = byte_at(text, i);
    const std::size_t length = leastwise::text::sequence_length(text, i);
    if (length == 0 || is_forbidden_control(byte)) {
      file.code = codes::not_text;
      file.problem = length == 0 ? "must be UTF-8 text, found a byte that is not; save it as UTF-8"
                                 : control_problem(byte);
      file.line = line;
      file.column = column;
      return;
    }
    if (byte == '\n') {
      ++line;
      column = 0;
    }
    ++column;
    i += length;
  }
}

void split_lines(TextFile& file) {
  std::size_t start = 0;
  while (start <= file.text.size()) {
    const std::size_t end = std::min(file.text.find('\n', start), file.text.size());
    file.lines.push_back(file.text.substr(start, end - start));
    start = end + 1;
  }
}

}  // namespace

TextFile split_text(std::string_view text) {
  if (text.size() > most_bytes) {
    return failed(codes::file_too_large, "is larger than 16 MiB, the most that is read");
  }
  if ((byte_at(text, 0) == 0xFFU && byte_at(text, 1) == 0xFEU) ||
      (byte_at(text, 0) == 0xFEU && byte_at(text, 1) == 0xFFU)) {
    return failed(codes::not_text, "is UTF-16 text; save it as UTF-8");
  }
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (text.substr(0, byte_order_mark.size()) == byte_order_mark) {
    text.remove_prefix(byte_order_mark.size());
  }
  TextFile file;
  file.text = with_plain_line_ends(text);
  check_characters(file);
  split_lines(file);
  return file;
}

TextFile read_named_file(const std::filesystem::path& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  const bool ordinary = !std::filesystem::exists(status) || std::filesystem::is_directory(status) ||
                        std::filesystem::is_regular_file(status);
  if (!ordinary) return failed(codes::file_unreadable, "is a pipe or a device, expected a file");
  return read_text_file(path);
}

TextFile read_text_file(const std::filesystem::path& path) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) {
    return failed(codes::file_missing, "does not exist");
  }
  if (error == std::errc::too_many_symbolic_link_levels) {
    return failed(codes::file_unreadable, "is a link that leads back to itself");
  }
  if (std::filesystem::is_directory(status)) {
    return failed(codes::file_unreadable, "is a folder, expected a file");
  }
  // NOLINTNEXTLINE(*-owning-memory): the pointer below owns it.
  const auto close = [](std::FILE* stream) { std::fclose(stream); };
  const std::unique_ptr<std::FILE, decltype(close)> stream(std::fopen(path.c_str(), "rb"), close);
  if (!stream) return failed(codes::file_unreadable, "cannot be opened; check who may read it");
  std::string bytes;
  std::array<char, 65536> buffer{};
  while (bytes.size() <= most_bytes) {
    const std::size_t count = std::fread(buffer.data(), 1, buffer.size(), stream.get());
    bytes.append(buffer.data(), count);
    if (count < buffer.size()) break;
  }
  if (std::ferror(stream.get()) != 0) {
    return failed(codes::file_unreadable, "cannot be read to its end");
  }
  return split_text(bytes);
}

Diagnostic fault_of(const std::string& name, const TextFile& file) {
  Diagnostic diagnostic;
  diagnostic.code = std::string(file.code);
  diagnostic.message = "the file " + in_quotes(name) + " " + file.problem;
  diagnostic.place = {name, file.line, file.column, 1};
  return diagnostic;
}

}  // namespace leastwise
