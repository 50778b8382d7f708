#include "report/kit/html_page.hpp"

#include "report/kit/markup.hpp"

namespace leastwise::report {

HtmlPage::HtmlPage(std::string_view title, Paper paper, std::string_view style,
                   std::string_view policy) {
  text_ = "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n";
  text_ += "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n";
  if (!policy.empty()) {
    text_ += "<meta http-equiv=\"Content-Security-Policy\" content=\"";
    text_ += policy;
    text_ += "\">\n";
  }
  text_ += "<title>";
  text_ += escaped(title);
  text_ += "</title>\n<style>\n@page{size:";
  text_ += paper == Paper::a4 ? "A4" : "letter";
  text_ += ";margin:9mm 12mm}";
  text_ += style;
  text_ += "</style>\n</head>\n<body>\n";
}

HtmlPage& HtmlPage::raw(std::string_view markup) {
  text_ += markup;
  return *this;
}

HtmlPage& HtmlPage::element(std::string_view tag, std::string_view text,
                            std::string_view attributes) {
  text_ += '<';
  text_ += tag;
  if (!attributes.empty()) text_ += ' ';
  text_ += attributes;
  text_ += '>';
  text_ += escaped(text);
  text_ += "</";
  text_ += tag;
  text_ += ">\n";
  return *this;
}

void HtmlPage::open_sheet(std::string_view css_class, std::string_view attributes) {
  text_ += "<section class=\"sheet ";
  text_ += css_class;
  text_ += '"';
  if (!attributes.empty()) text_ += ' ';
  text_ += attributes;
  text_ += ">\n";
}

void HtmlPage::close_sheet() { text_ += "</section>\n"; }

void HtmlPage::section(std::string_view heading, std::span<const std::string> lines) {
  element("h2", heading);
  raw("<ul>\n");
  for (const auto& line : lines) element("li", line);
  raw("</ul>\n");
}

void HtmlPage::open_ticks() { text_ += "<ul class=\"ticks\">\n"; }

void HtmlPage::tick(std::string_view text, std::string_view css_class) {
  const std::string attributes =
      css_class.empty() ? std::string() : "class=\"" + std::string(css_class) + "\"";
  element("li", text, attributes);
}

void HtmlPage::close_ticks() { text_ += "</ul>\n"; }

void HtmlPage::open_table(std::string_view css_class,
                          std::initializer_list<std::string_view> headings) {
  text_ += "<table class=\"";
  text_ += css_class;
  text_ += "\">\n<thead><tr>";
  for (const auto heading : headings) {
    // `>` marks a column of numbers, `~` one that a narrow screen leaves out.
    std::string classes;
    std::string_view words = heading;
    for (; !words.empty() && (words.front() == '>' || words.front() == '~');
         words.remove_prefix(1)) {
      classes += words.front() == '>' ? " n" : " wide";
    }
    text_ += classes.empty() ? "<th>" : "<th class=\"" + classes.substr(1) + "\">";
    text_ += escaped(words);
    text_ += "</th>";
  }
  text_ += "</tr></thead>\n<tbody>\n";
}

void HtmlPage::close_table() { text_ += "</tbody>\n</table>\n"; }

std::string HtmlPage::text() && {
  text_ += "</body>\n</html>\n";
  return std::move(text_);
}

}  // namespace leastwise::report
