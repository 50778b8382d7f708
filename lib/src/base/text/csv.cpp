#include "base/text/csv.hpp"

#include <utility>

namespace leastwise {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

bool starts_a_character(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

class CsvReader {
 public:
  CsvReader(std::string_view text, char separator) : text_(text), separator_(separator) {
    if (text_.starts_with(byte_order_mark)) text_.remove_prefix(byte_order_mark.size());
  }

  CsvText read() {
    while (!at_end()) {
      if (at_line_end()) {
        take_line_end();
      } else {
        read_row();
      }
    }
    return std::move(result_);
  }

 private:
  void read_row() {
    CsvRow row;
    row.line = line_;
    bool sound = true;
    while (true) {
      CsvField field;
      sound = at('"') ? read_quoted(field) : read_plain(field);
      if (!sound) break;
      row.fields.push_back(std::move(field));
      if (!at(separator_)) break;
      take();
    }
    if (sound) {
      result_.rows.push_back(std::move(row));
    } else {
      while (!at_end() && !at_line_end()) take();
    }
    if (!at_end()) take_line_end();
  }

  bool read_plain(CsvField& field) {
    start(field);
    while (!at_end() && !at(separator_) && !at_line_end()) {
      if (at('"')) {
        return fail("a quote inside a field: put the whole field in quotes and double this one");
      }
      if (!is_text(text_[position_])) return fail_control();
      field.text += take();
    }
    field.width = column_ - field.column;
    return true;
  }

  bool read_quoted(CsvField& field) {
    start(field);
    field.quoted = true;
    const std::size_t opening = position_;
    take();
    while (!at_end()) {
      if (at('"')) {
        take();
        if (!at('"')) return close_quoted(field);
      } else if (at_line_end()) {
        field.text += '\n';
        take_line_end();
        continue;
      } else if (!is_text(text_[position_])) {
        return fail_control();
      }
      field.text += take();
    }
    return fail_unclosed(field, opening);
  }

  bool close_quoted(CsvField& field) {
    if (!at_end() && !at(separator_) && !at_line_end()) {
      return fail(std::string("expected a ") + (separator_ == ',' ? "comma" : "semicolon") +
                  " or the end of the line after a closing quote");
    }
    field.width = line_ == field.line ? column_ - field.column : 1;
    return true;
  }

  /// Reads on behind the opening quote: the lines after it are most likely sound.
  bool fail_unclosed(const CsvField& field, std::size_t opening) {
    line_ = field.line;
    column_ = field.column;
    position_ = opening;
    fail("a quote that is opened here is never closed");
    take();
    return false;
  }

  void start(CsvField& field) const {
    field.line = line_;
    field.column = column_;
  }

  bool fail(std::string message) {
    result_.problems.push_back({std::move(message), line_, column_});
    return false;
  }

  bool fail_control() { return fail("a control character, which a text cannot hold"); }

  static bool is_text(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte == '\t' || (byte >= 0x20 && byte != 0x7F);
  }

  [[nodiscard]] bool at_end() const { return position_ == text_.size(); }
  [[nodiscard]] bool at(char c) const { return !at_end() && text_[position_] == c; }
  [[nodiscard]] bool at_line_end() const {
    return at('\n') || text_.substr(position_).starts_with("\r\n");
  }

  char take() {
    const char c = text_[position_++];
    if (position_ == text_.size() || starts_a_character(text_[position_])) ++column_;
    return c;
  }

  void take_line_end() {
    position_ += at('\r') ? 2 : 1;
    ++line_;
    column_ = 1;
  }

  std::string_view text_;
  char separator_;
  std::size_t position_ = 0;
  int line_ = 1;
  int column_ = 1;
  CsvText result_{};
};

}  // namespace

CsvText parse_csv(std::string_view text, char separator) {
  return CsvReader(text, separator).read();
}

}  // namespace leastwise
