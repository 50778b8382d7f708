#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

/// A finished drawing: it scales to the width it is given and carries its meaning in words.
struct Picture {
  std::string title{};        ///< what it shows; read out by a screen reader
  std::string description{};  ///< what there is to see, for those who do not
  double height = 0;          ///< in units of which `picture_width` make the width
  std::string body{};         ///< SVG elements
  bool bars = false;          ///< bars of what the table beside it says: paper does without
};

/// Width of every picture. Letters are 12.5 units high: readable on a telephone, where this width
/// is about 350 pixels, and on paper.
inline constexpr double picture_width = 440;

/// The picture as an `svg` element within a page that has `picture_style`.
[[nodiscard]] std::string inline_svg(const Picture& picture);

/// The pictures below one another as a document that needs nothing but itself.
[[nodiscard]] std::string svg_document(std::span<const Picture> pictures);

/// Words in place of a drawing, for an answer that has nothing to draw.
[[nodiscard]] Picture words_picture(std::string title, const std::vector<std::string>& sentences);

/// How classes of drawings look, light and dark.
[[nodiscard]] std::string_view picture_style();

}  // namespace leastwise::report
