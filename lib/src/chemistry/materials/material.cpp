#include <leastwise/material.hpp>
#include <leastwise/nutrient.hpp>

namespace leastwise {

std::string_view to_string(Form form) {
  switch (form) {
    case Form::granule:
      return "granule";
    case Form::powder:
      return "powder";
    case Form::crystal:
      return "crystal";
    case Form::fines:
      return "fines";
  }
  return "";
}

namespace {

double single_content(const Material& material, std::string_view name) {
  for (const Content& content : material.contains_percent) {
    if (content.name == name) return content.percent;
  }
  for (const Content& content : material.contains_percent) {
    if (const std::optional<double> factor = conversion_factor(content.name, name)) {
      return content.percent * *factor;
    }
  }
  return 0;
}

}  // namespace

double content_percent(const Material& material, std::string_view name) {
  if (name.find('+') == std::string_view::npos) return single_content(material, name);
  double sum = 0;
  for (const std::string_view part : parts_of_sum(name)) sum += single_content(material, part);
  return sum;
}

}  // namespace leastwise
