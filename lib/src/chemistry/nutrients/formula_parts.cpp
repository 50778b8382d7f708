#include "chemistry/nutrients/formula_parts.hpp"

#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <utility>

#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

constexpr std::size_t longest_formula = 200;
constexpr std::size_t deepest_nesting = 8;
constexpr std::size_t longest_number = 4;
constexpr std::string_view middle_dot = "\xC2\xB7";

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
bool is_small(char c) { return c >= 'a' && c <= 'z'; }

/// A group that is being read: what closes it, and where it was opened.
struct OpenGroup {
  char closing = ')';
  std::size_t offset = 0;
  std::vector<FormulaUnit> units{};
};

class FormulaReader {
 public:
  explicit FormulaReader(std::string_view text) : text_(text) {}

  std::vector<FormulaPart> read() {
    if (text_.empty()) fail("expected a chemical formula such as ZnSO4.H2O, found nothing", 0);
    if (text_.size() > longest_formula) {
      fail("a formula may have at most " + std::to_string(longest_formula) + " characters",
           longest_formula);
    }
    std::vector<FormulaPart> parts;
    do {
      parts.push_back(read_part());
    } while (take_separator());
    if (!at_end()) fail_unexpected();
    return parts;
  }

 private:
  FormulaPart read_part() {
    FormulaPart part;
    if (!at_end() && is_digit(text_[offset_])) part.multiplier = read_multiplier();
    part.units = read_units();
    return part;
  }

  /// Reads one part without recursion: open groups lie on a stack.
  std::vector<FormulaUnit> read_units() {
    std::vector<OpenGroup> open(1);
    while (!at_end()) {
      const char c = text_[offset_];
      if (is_capital(c)) {
        open.back().units.push_back(read_element());
      } else if (c == '(' || c == '[') {
        open_group(open);
      } else if (open.size() > 1 && c == open.back().closing) {
        close_group(open);
      } else {
        break;
      }
    }
    if (open.size() > 1) {
      const std::string opened(1, text_[open.back().offset]);
      const std::string wanted(1, open.back().closing);
      if (at_end()) fail("'" + opened + "' has no matching '" + wanted + "'", open.back().offset);
      fail_unexpected();
    }
    if (open.front().units.empty()) {
      fail("expected an element symbol such as Zn, found " + found(), offset_);
    }
    return std::move(open.front().units);
  }

  void open_group(std::vector<OpenGroup>& open) {
    if (open.size() > deepest_nesting) {
      fail("brackets may be nested at most " + std::to_string(deepest_nesting) + " deep", offset_);
    }
    OpenGroup group;
    group.closing = text_[offset_] == '(' ? ')' : ']';
    group.offset = offset_++;
    open.push_back(std::move(group));
  }

  void close_group(std::vector<OpenGroup>& open) {
    if (open.back().units.empty())
      fail("nothing stands between these brackets", open.back().offset);
    ++offset_;
    FormulaUnit unit;
    unit.group = std::move(open.back().units);
    unit.count = read_count();
    open.pop_back();
    open.back().units.push_back(std::move(unit));
  }

  FormulaUnit read_element() {
    const std::size_t start = offset_++;
    while (!at_end() && is_small(text_[offset_])) ++offset_;
    FormulaUnit unit;
    unit.symbol = text_.substr(start, offset_ - start);
    if (!atomic_weight(unit.symbol)) fail("unknown element '" + unit.symbol + "'", start);
    unit.count = read_count();
    return unit;
  }

  double read_count() {
    const std::size_t start = offset_;
    const std::string_view digits = take_digits();
    if (digits.empty()) return 1;
    if (digits.front() == '0') fail("a count starts with a digit from 1 to 9", start);
    return *parse_number(digits);
  }

  /// A dot is a decimal point only between two digits; elsewhere it joins the parts.
  double read_multiplier() {
    const std::size_t start = offset_;
    take_digits();
    if (offset_ + 1 < text_.size() && text_[offset_] == '.' && is_digit(text_[offset_ + 1])) {
      ++offset_;
      take_digits();
    }
    const double value = *parse_number(text_.substr(start, offset_ - start));
    if (value <= 0) fail("the number before a part must be greater than 0", start);
    return value;
  }

  std::string_view take_digits() {
    const std::size_t start = offset_;
    while (!at_end() && is_digit(text_[offset_])) ++offset_;
    if (offset_ - start > longest_number) {
      fail("a number may have at most " + std::to_string(longest_number) + " digits", start);
    }
    return text_.substr(start, offset_ - start);
  }

  bool take_separator() {
    if (at_end()) return false;
    if (text_.substr(offset_).starts_with(middle_dot)) {
      offset_ += middle_dot.size();
      return true;
    }
    if (text_[offset_] != '.' && text_[offset_] != '*') return false;
    ++offset_;
    return true;
  }

  [[noreturn]] void fail_unexpected() const {
    const char c = text_[offset_];
    if (c == ')' || c == ']') fail("nothing is open that " + found() + " could close", offset_);
    if (is_small(c)) {
      fail("expected an element symbol, which starts with a capital letter, found " + found(),
           offset_);
    }
    fail("expected an element symbol, a count, a bracket or a dot, found " + found(), offset_);
  }

  /// The character at the offset in quotes, whole even when it is several bytes long.
  [[nodiscard]] std::string found() const {
    if (at_end()) return "the end";
    std::size_t end = offset_ + 1;
    while (end < text_.size() && (static_cast<unsigned char>(text_[end]) & 0xC0U) == 0x80U) ++end;
    return "'" + std::string(text_.substr(offset_, end - offset_)) + "'";
  }

  [[noreturn]] static void fail(const std::string& message, std::size_t offset) {
    throw FormulaError(message, offset);
  }

  [[nodiscard]] bool at_end() const { return offset_ == text_.size(); }

  std::string_view text_;
  std::size_t offset_ = 0;
};

}  // namespace

std::vector<FormulaPart> parse_formula(std::string_view formula) {
  return FormulaReader(formula).read();
}

}  // namespace leastwise
