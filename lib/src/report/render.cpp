#include <leastwise/render.hpp>

#include <stdexcept>

#include "report/answers.hpp"
#include "report/kit/own_units.hpp"

namespace leastwise {
namespace {

using namespace report;

/// The report that the function of its format makes.
template <class Text, class Json, class Csv, class Html, class Svg>
std::string written(Format format, Text text, Json json, Csv csv, Html html, Svg svg) {
  switch (format) {
    case Format::text:
      return text();
    case Format::json:
      return json();
    case Format::csv:
      return csv();
    case Format::html:
      return html();
    case Format::svg:
      return svg();
  }
  throw std::invalid_argument("render: no such format");
}

[[noreturn]] std::string without_pictures() {
  throw std::invalid_argument("render: this answer has no pictures to draw as SVG");
}

template <class Answer>
decltype(auto) own_units(const Answer& answer) {
  if constexpr (requires { in_own_units(answer); })
    return in_own_units(answer);
  else
    return (answer);
}

template <class Answer>
std::string rendered(const Answer& answer, Format format, const ReportOptions& options) {
  return written(
      format, [&] { return page_of(own_units(answer), Medium::text).text(options); },
      [&] { return json_of(answer); }, [&] { return csv_of(own_units(answer)); },
      [&] { return page_of(own_units(answer), Medium::html).html(options.paper); },
      [&] {
        if constexpr (requires { svg_of(answer); })
          return svg_of(own_units(answer));
        else
          return without_pictures();
      });
}

}  // namespace

std::string render(const Formulation& answer, Format format, const ReportOptions& options) {
  return rendered(answer, format, options);
}

std::string render(const ProvenFormulation& answer, Format format, const ReportOptions& options) {
  return format == Format::json ? json_of(answer) : rendered(answer.answer, format, options);
}

std::string render(const Alternatives& list, Format format, const ReportOptions& options) {
  return rendered(list, format, options);
}

std::string render(const NearOptimum& answer, Format format, const ReportOptions& options) {
  return rendered(answer, format, options);
}

std::string render(const Comparison& comparison, Format format, const ReportOptions& options) {
  return rendered(comparison, format, options);
}

std::string render(const LimitMap& map, Format format, const ReportOptions& options) {
  return rendered(map, format, options);
}

std::string render(const PriceMap& map, Format format, const ReportOptions& options) {
  return rendered(map, format, options);
}

std::string render(const PriceRegions& map, Format format, const ReportOptions& options) {
  return rendered(map, format, options);
}

std::string render(const PriceRisk& risk, Format format, const ReportOptions& options) {
  return rendered(risk, format, options);
}

std::string render(const RoundedBlend& blend, Format format, const ReportOptions& options) {
  return rendered(blend, format, options);
}

std::string render(const SeasonPlan& plan, Format format, const ReportOptions& options) {
  return rendered(plan, format, options);
}

std::string render(std::span<const Material> materials, Format format,
                   const ReportOptions& options) {
  return rendered(materials, format, options);
}

std::string render(const Quote& quote, Format format, const ReportOptions& options) {
  const Quote own = in_own_units(quote);
  return written(
      format, [&] { return page_of(own, options.source, Medium::text).text(options); },
      [&] { return json_of(quote, options.source); }, [&] { return csv_of(own, options.source); },
      [&] { return page_of(own, options.source, Medium::html).html(options.paper); },
      without_pictures);
}

std::string render(const Verification& verification, Format format, const ReportOptions& options) {
  return written(
      format, [&] { return text_of(verification); }, [&] { return json_of(verification); },
      [&] { return csv_of(verification); },
      [&] { return page_of(verification).html(options.paper); }, without_pictures);
}

std::string render(const CheckedScenario& checked, Format format, const ReportOptions& options) {
  const Scenario& scenario = checked.scenario;
  return written(
      format, [&] { return text_of(scenario, options.source); },
      [&] { return json_of(scenario, options.source); },
      [&] { return csv_of(scenario, options.source); },
      [&] { return page_of(scenario, options.source).html(options.paper); }, without_pictures);
}

}  // namespace leastwise
