#include "chemistry/hazard/folded_name.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <utility>

#include "base/text/utf8.hpp"

namespace leastwise {
namespace {

using CodePoint = std::uint32_t;

CodePoint code_point_at(std::string_view bytes) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(bytes[i]); };
  switch (bytes.size()) {
    case 1:
      return byte(0);
    case 2:
      return ((byte(0) & 0x1FU) << 6U) | (byte(1) & 0x3FU);
    case 3:
      return ((byte(0) & 0x0FU) << 12U) | ((byte(1) & 0x3FU) << 6U) | (byte(2) & 0x3FU);
    default:
      return ((byte(0) & 0x07U) << 18U) | ((byte(1) & 0x3FU) << 12U) | ((byte(2) & 0x3FU) << 6U) |
             (byte(3) & 0x3FU);
  }
}

/// Latin-1 letters from U+00C0, two rows of 32 alike but for U+00DF and U+00FF.
constexpr std::string_view latin_1 = "aaaaaa*ceeeeiiiidnooooo.ouuuuyt*";
/// Latin Extended-A, U+0100 to U+017F.
constexpr std::string_view latin_extended =
    "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiijjjjkkkllllllllllnnnnnnnnnoooooooorrrrrrssss"
    "ssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
static_assert(latin_1.size() == 32 && latin_extended.size() == 128);

/// Letters of Cyrillic and Greek that look like a Latin one, in lower case.
constexpr std::array<std::pair<CodePoint, char>, 26> look_alikes{{
    {0x430, 'a'}, {0x435, 'e'}, {0x43E, 'o'}, {0x440, 'p'}, {0x441, 'c'}, {0x445, 'x'},
    {0x443, 'y'}, {0x456, 'i'}, {0x455, 's'}, {0x458, 'j'}, {0x44C, 'b'}, {0x442, 't'},
    {0x43C, 'm'}, {0x43D, 'h'}, {0x43A, 'k'}, {0x432, 'b'}, {0x3B1, 'a'}, {0x3B5, 'e'},
    {0x3BF, 'o'}, {0x3C1, 'p'}, {0x3BD, 'v'}, {0x3B9, 'i'}, {0x3C4, 't'}, {0x3BA, 'k'},
    {0x3C5, 'u'}, {0x3C7, 'x'},
}};

std::string utf8(CodePoint c) {
  std::string bytes;
  const auto tail = [&](unsigned shift) {
    bytes.push_back(static_cast<char>(0x80U | ((c >> shift) & 0x3FU)));
  };
  if (c < 0x80) {
    bytes.push_back(static_cast<char>(c));
  } else if (c < 0x800) {
    bytes.push_back(static_cast<char>(0xC0U | (c >> 6U)));
    tail(0);
  } else if (c < 0x10000) {
    bytes.push_back(static_cast<char>(0xE0U | (c >> 12U)));
    tail(6);
    tail(0);
  } else {
    bytes.push_back(static_cast<char>(0xF0U | (c >> 18U)));
    tail(12);
    tail(6);
    tail(0);
  }
  return bytes;
}

enum class Sort { letter, digit, nothing, gap };

struct Folded {
  Sort sort = Sort::gap;
  std::string text{};
  CodePoint other_script = 0;  ///< a Greek or Cyrillic letter, lower case
};

Folded fold_ascii(char c) {
  if (c >= 'A' && c <= 'Z') return {Sort::letter, std::string(1, static_cast<char>(c + 32))};
  if (c >= 'a' && c <= 'z') return {Sort::letter, std::string(1, c)};
  if (c >= '0' && c <= '9') return {Sort::digit, std::string(1, c)};
  return {};
}

Folded fold_latin_1(CodePoint c) {
  if (c == 0xC6 || c == 0xE6) return {Sort::letter, "ae"};
  if (c == 0xDF) return {Sort::letter, "ss"};
  if (c == 0xFF) return {Sort::letter, "y"};
  if (c == 0xDE || c == 0xFE) return {Sort::letter, "th"};
  const char letter = latin_1[(c - 0xC0) % 32];
  return letter == '.' ? Folded{} : Folded{Sort::letter, std::string(1, letter)};
}

/// Greek vowels with an accent, in both cases, and the plain small vowel.
constexpr std::array<std::pair<CodePoint, CodePoint>, 18> greek_accents{{
    {0x386, 0x3B1},
    {0x388, 0x3B5},
    {0x389, 0x3B7},
    {0x38A, 0x3B9},
    {0x38C, 0x3BF},
    {0x38E, 0x3C5},
    {0x38F, 0x3C9},
    {0x3AC, 0x3B1},
    {0x3AD, 0x3B5},
    {0x3AE, 0x3B7},
    {0x3AF, 0x3B9},
    {0x3CC, 0x3BF},
    {0x3CD, 0x3C5},
    {0x3CE, 0x3C9},
    {0x390, 0x3B9},
    {0x3B0, 0x3C5},
    {0x3CA, 0x3B9},
    {0x3CB, 0x3C5},
}};

CodePoint without_greek_accent(CodePoint c) {
  const auto* const found = std::find_if(greek_accents.begin(), greek_accents.end(),
                                         [c](const auto& pair) { return pair.first == c; });
  return found == greek_accents.end() ? 0 : found->second;
}

/// Marks that stand above a letter, and characters that nobody sees.
bool is_invisible(CodePoint c) {
  return (c >= 0x300 && c <= 0x36F) || (c >= 0x200B && c <= 0x200F) ||
         (c >= 0x202A && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F) || c == 0xFEFF || c == 0xAD;
}

Folded fold(CodePoint c) {
  if (c < 0x80) return fold_ascii(static_cast<char>(c));
  if (is_invisible(c)) return {Sort::nothing, {}};
  if (c >= 0xFF01 && c <= 0xFF5E) return fold_ascii(static_cast<char>(c - 0xFF01 + 0x21));
  if (c >= 0x2080 && c <= 0x2089)
    return {Sort::digit, std::string(1, static_cast<char>('0' + (c - 0x2080)))};
  if (c < 0xC0 || c == 0xD7 || c == 0xF7 || (c >= 0x2000 && c <= 0x2BFF)) return {};
  if (c <= 0xFF) return fold_latin_1(c);
  if (c == 0x152 || c == 0x153) return {Sort::letter, "oe"};
  if (c <= 0x17F) return {Sort::letter, std::string(1, latin_extended[c - 0x100])};
  if (c >= 0x218 && c <= 0x21B) return {Sort::letter, c <= 0x219 ? "s" : "t"};
  if (const CodePoint plain = without_greek_accent(c); plain != 0) c = plain;
  if (c >= 0x391 && c <= 0x3A9) c += 32;
  if (c == 0x3C2) c = 0x3C3;  // the sigma that ends a word
  if (c >= 0x410 && c <= 0x42F) c += 32;
  if (c >= 0x400 && c <= 0x40F) c += 80;
  return {Sort::letter, utf8(c), c};
}

char look_alike(CodePoint c) {
  const auto* const found = std::find_if(look_alikes.begin(), look_alikes.end(),
                                         [c](const auto& p) { return p.first == c; });
  return found == look_alikes.end() ? '\0' : found->second;
}

struct Word {
  std::string text{};
  std::string as_latin{};
  bool latin = false;
  bool foreign = false;
};

/// Joins letters that stand alone, as in `A.N.` and `o i l`.
std::vector<std::string> initials_of(const std::vector<std::string>& words) {
  std::vector<std::string> initials;
  std::string run;
  const auto end_run = [&] {
    if (run.size() > 1) initials.push_back(run);
    run.clear();
  };
  for (const auto& word : words) {
    if (word.size() == 1) {
      run += word;
    } else {
      end_run();
    }
  }
  end_run();
  return initials;
}

}  // namespace

FoldedName folded_name(std::string_view name) {
  FoldedName folded;
  Word word;
  const auto end_word = [&] {
    if (word.text.empty()) return;
    folded.words.push_back(word.latin && word.foreign ? word.as_latin : word.text);
    folded.letters += folded.words.back();
    word = {};
  };
  for (std::size_t i = 0; i < name.size();) {
    const std::size_t length = text::sequence_length(name, i);
    if (length == 0) {
      end_word();
      ++i;
      continue;
    }
    const Folded c = fold(code_point_at(name.substr(i, length)));
    i += length;
    if (c.sort == Sort::nothing) continue;
    if (c.sort != Sort::letter) {
      end_word();
      continue;
    }
    const char twin = c.other_script == 0 ? '\0' : look_alike(c.other_script);
    word.latin = word.latin || c.other_script == 0;
    word.foreign = word.foreign || c.other_script != 0;
    constexpr CodePoint after_cyrillic = 0x530;
    folded.is_foreign = folded.is_foreign || c.other_script >= after_cyrillic;
    word.text += c.text;
    word.as_latin += twin == '\0' ? c.text : std::string(1, twin);
  }
  end_word();
  folded.initials = initials_of(folded.words);
  return folded;
}

std::string folded_key(std::string_view name) {
  std::string key;
  for (std::size_t i = 0; i < name.size();) {
    const std::size_t length = text::sequence_length(name, i);
    if (length == 0) {
      ++i;
      continue;
    }
    key += fold(code_point_at(name.substr(i, length))).text;
    i += length;
  }
  return key;
}

}  // namespace leastwise
