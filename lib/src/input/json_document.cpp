#include "input/json_document.hpp"

#include <nlohmann/json.hpp>
#include <optional>
#include <utility>
#include <vector>

#include "base/codes.hpp"
#include "base/reading_stop.hpp"
#include "base/text/wording.hpp"

namespace leastwise {
namespace {

using Json = nlohmann::json;

constexpr std::string_view blanks = " \t\n\r";

/// Goes through the text beside the parser, token by token: the parser says what a value is, this
/// where it stands.
class TokenWalk {
 public:
  struct Token {
    SourceSpan spot{};
    std::string_view text{};
  };

  explicit TokenWalk(std::string_view text) : text_(text) {}

  /// The next token but commas and colons; the parser has seen that there is one.
  Token next() {
    advance_to(text_.find_first_not_of(" \t\n\r,:", at_));
    const SourceSpan spot{line_, column_, 1};
    const std::string_view token = text_.substr(at_, length());
    advance_to(at_ + token.size());
    return {{spot.line, spot.column, static_cast<int>(code_points(token))}, token};
  }

  /// Where the text goes on: the place of what is not JSON, or with `value` of a broken value.
  SourceSpan here(bool value) {
    advance_to(text_.find_first_not_of(value ? " \t\n\r,:" : blanks, at_));
    return {line_, column_, 1};
  }

 private:
  [[nodiscard]] std::size_t length() const {
    if (at_ >= text_.size()) return 0;
    const char first = text_[at_];
    if (first == '{' || first == '}' || first == '[' || first == ']') return 1;
    if (first != '"') return std::min(text_.find_first_of(" \t\n\r,:]}", at_), text_.size()) - at_;
    std::size_t end = at_ + 1;
    while (end < text_.size() && text_[end] != '"') end += text_[end] == '\\' ? 2 : 1;
    return std::min(end + 1, text_.size()) - at_;
  }

  void advance_to(std::size_t end) {
    end = std::min(end, text_.size());
    for (; at_ < end; ++at_) {
      const auto byte = static_cast<unsigned char>(text_[at_]);
      if (byte == '\n') {
        ++line_;
        column_ = 1;
      } else if ((byte & 0xC0U) != 0x80U) {
        ++column_;
      }
    }
  }

  std::string_view text_;
  std::size_t at_ = 0;
  int line_ = 1;
  int column_ = 1;
};

/// What the parser says is wrong, without its own prefix and without a copy of the text.
std::string reason(std::string_view words) {
  if (const auto prefix = words.find("] ");
      words.starts_with('[') && prefix != std::string_view::npos)
    words.remove_prefix(prefix + 2);
  if (const auto dash = words.find(" - "); dash != std::string_view::npos)
    words.remove_prefix(dash + 3);
  if (const auto copy = words.find("; last read: "); copy != std::string_view::npos) {
    const auto on = words.find("'; expected", copy);
    const std::string rest(on == std::string_view::npos ? "" : words.substr(on + 1));
    return std::string(words.substr(0, copy)) + rest;
  }
  return std::string(words);
}

/// Builds the tree from the parser's events.
class JsonTree : public nlohmann::json_sax<Json> {
 public:
  JsonTree(std::string_view text, Document& document, const std::stop_token& stop)
      : walk_(text), document_(document), stop_(stop) {}

  bool null() override { return add({Node::Kind::nothing, true, walk_.next().spot, {}, {}, {}}); }
  bool boolean(bool) override { return add_plain(); }
  bool number_integer(number_integer_t) override { return add_plain(); }
  bool number_unsigned(number_unsigned_t) override { return add_plain(); }
  bool number_float(number_float_t, const string_t&) override { return add_plain(); }
  bool string(string_t& value) override { return add(text_node(std::move(value))); }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(Node::Kind::mapping); }
  bool end_object() override { return close(); }
  bool start_array(std::size_t) override { return open(Node::Kind::sequence); }
  bool end_array() override { return close(); }
  bool key(string_t& name) override {
    levels_.back().key = text_node(std::move(name));
    return true;
  }
  bool parse_error(std::size_t, const std::string&,
                   const nlohmann::detail::exception& error) override {
    const std::string wrong = reason(error.what());
    return reject(
        codes::syntax,
        "expected JSON, for the text begins with {\", found a mistake: " + printable(wrong),
        !wrong.starts_with("unexpected"));
  }

 private:
  /// An object or array that is still open.
  struct Level {
    Node node{};
    std::optional<Node> key{};
  };

  Node text_node(std::string text) {
    return {Node::Kind::scalar, false, walk_.next().spot, std::move(text), {}, {}};
  }

  bool add_plain() {
    const auto token = walk_.next();
    return add({Node::Kind::scalar, true, token.spot, std::string(token.text), {}, {}});
  }

  bool open(Node::Kind kind) {
    if (levels_.size() >= deepest_document) return reject(codes::too_deep, too_deep_words());
    levels_.push_back({{kind, true, walk_.next().spot, {}, {}, {}}, {}});
    return true;
  }

  bool close() {
    static_cast<void>(walk_.next());
    Node node = std::move(levels_.back().node);
    levels_.pop_back();
    return add(std::move(node));
  }

  bool add(Node node) {
    leave_if_asked(stop_);
    if (++nodes_ > most_document_nodes) return reject(codes::file_too_large, too_many_words());
    if (levels_.empty()) {
      document_.root = std::move(node);
    } else if (Level& level = levels_.back(); level.node.kind == Node::Kind::sequence) {
      level.node.items.push_back(std::move(node));
    } else {
      level.node.entries.push_back({std::move(*level.key), std::move(node)});
      level.key.reset();
    }
    return true;
  }

  bool reject(std::string_view code, std::string message, bool value = true) {
    document_.problems.push_back({code, std::move(message), walk_.here(value)});
    return false;
  }

  TokenWalk walk_;
  Document& document_;
  const std::stop_token& stop_;
  std::vector<Level> levels_{};
  std::size_t nodes_ = 0;
};

}  // namespace

bool is_json(std::string_view text) {
  const auto brace = text.find_first_not_of(blanks);
  if (brace == std::string_view::npos || text[brace] != '{') return false;
  const auto quote = text.find_first_not_of(blanks, brace + 1);
  return quote != std::string_view::npos && text[quote] == '"';
}

Document parse_json_document(const std::string& text, const std::stop_token& stop) {
  Document document;
  JsonTree tree(text, document, stop);
  document.complete = Json::sax_parse(text, &tree);
  return document;
}

}  // namespace leastwise
