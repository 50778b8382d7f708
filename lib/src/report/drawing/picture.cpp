#include "report/drawing/picture.hpp"

#include <algorithm>

#include "report/drawing/canvas.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"

namespace leastwise::report {
namespace {

// Colours: the eight of M. Okabe and K. Ito, "Color Universal Design: how to make figures and
// presentations that are friendly to colorblind people" (2008), told apart with any common kind of
// colour vision. None carries a meaning alone: numbers, places, marks and words say the same.
// Blue 0072B2 and sky blue 56B4E9 trade places in the dark, orange E69F00 stays; D55E00 vermilion,
// 009E73 bluish green, CC79A7 reddish purple, F0E442 yellow fill regions in turn.
constexpr std::string_view picture_css = R"css(
.picture{font:12.5px "Liberation Sans",Arial,Helvetica,sans-serif}
.picture text{fill:#1b1b1b}
.picture .quiet{fill:#4d4d4d}
.picture .strong{font-weight:bold}
.picture .end{text-anchor:end}
.picture .middle{text-anchor:middle}
.picture .halo{paint-order:stroke;stroke:#fff;stroke-width:3px;stroke-linejoin:round}
.picture .paper{fill:#fff}
.picture .main{fill:#0072B2}
.picture .pale{fill:#56B4E9}
.picture .zone{fill:#009E73;fill-opacity:.28}
.picture .axis{stroke:#4d4d4d;stroke-width:1;fill:none}
.picture .grid{stroke:#d0d0d0;stroke-width:1;fill:none}
.picture .curve{stroke:#0072B2;stroke-width:2.2;fill:none;stroke-linejoin:round}
.picture .now{stroke:#D55E00;stroke-width:1.6;stroke-dasharray:5 3;fill:none}
.picture .mark{fill:#1b1b1b}
.picture .limit{stroke:#1b1b1b;stroke-width:2;fill:none}
.picture .r0{fill:#56B4E9}.picture .r1{fill:#E69F00}.picture .r2{fill:#009E73}
.picture .r3{fill:#F0E442}.picture .r4{fill:#CC79A7}.picture .r5{fill:#0072B2}
.picture .r6{fill:#D55E00}.picture .r7{fill:#999999}
.picture .edge{stroke:#1b1b1b;stroke-width:1;stroke-linejoin:round}
@media screen and (prefers-color-scheme:dark){
.picture text{fill:#ececec}
.picture .quiet{fill:#b8b8b8}
.picture .halo{stroke:#17191c}
.picture .paper{fill:#17191c}
.picture .main{fill:#56B4E9}
.picture .pale{fill:#0072B2}
.picture .axis{stroke:#b8b8b8}
.picture .grid{stroke:#3b3f45}
.picture .curve{stroke:#56B4E9}
.picture .now{stroke:#E69F00}
.picture .mark{fill:#ececec}
.picture .limit{stroke:#ececec}
.picture .edge{stroke:#ececec}}
)css";

std::string opening(std::string_view name_space, double height) {
  return "<svg class=\"picture\" role=\"img\"" + std::string(name_space) + " viewBox=\"0 0 " +
         coordinate(picture_width) + " " + coordinate(height) + "\">\n";
}

std::string title_and_description(const Picture& picture) {
  return "<title>" + escaped(picture.title) + "</title>\n<desc>" + escaped(picture.description) +
         "</desc>\n";
}

}  // namespace

std::string_view picture_style() { return picture_css; }

std::string inline_svg(const Picture& picture) {
  return opening("", picture.height) + title_and_description(picture) + picture.body + "</svg>\n";
}

std::string svg_document(std::span<const Picture> pictures) {
  constexpr double margin = 12;
  constexpr double heading = 18;
  Picture whole;
  double y = margin;
  std::string body;
  for (const Picture& picture : pictures) {
    if (!whole.title.empty()) whole.title += "; ";
    whole.title += picture.title;
    if (!whole.description.empty()) whole.description += " ";
    whole.description += picture.description;
    for (const auto& line : wrapped(printable(picture.title), 60)) {
      Canvas canvas;
      canvas.text(margin, y + 12, line, "strong");
      body += std::move(canvas).body();
      y += heading;
    }
    y += 4;
    body += "<g transform=\"translate(0 " + coordinate(y) + ")\">\n" + picture.body + "</g>\n";
    y += picture.height + margin;
  }
  Canvas ground;
  ground.rectangle(0, 0, picture_width, y, "paper");
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" +
         opening(" xmlns=\"http://www.w3.org/2000/svg\" width=\"" + coordinate(2 * picture_width) +
                     "\" height=\"" + coordinate(2 * y) + "\"",
                 y) +
         title_and_description(whole) + "<style>" + std::string(picture_css) + "</style>\n" +
         std::move(ground).body() + body + "</svg>\n";
}

Picture words_picture(std::string title, const std::vector<std::string>& sentences) {
  constexpr double line_height = 17;
  Picture picture{std::move(title), {}, 0, {}};
  Canvas canvas;
  for (const auto& sentence : sentences) {
    if (!picture.description.empty()) picture.description += " ";
    picture.description += sentence;
    for (const auto& line : wrapped(printable(sentence), 64)) {
      picture.height += line_height;
      canvas.text(12, picture.height - 4, line);
    }
  }
  picture.body = std::move(canvas).body();
  return picture;
}

}  // namespace leastwise::report
