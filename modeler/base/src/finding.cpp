#include "base/finding.hpp"

#include <algorithm>
#include <tuple>

namespace ribbay {

Finding& Finding::with(std::string name, std::string value) & {
  arguments.push_back({std::move(name), std::move(value), Unit::none});
  return *this;
}

Finding& Finding::with(std::string name, double value, Unit unit) & {
  arguments.push_back({std::move(name), value, unit});
  return *this;
}

Finding&& Finding::with(std::string name, std::string value) && {
  return std::move(this->with(std::move(name), std::move(value)));
}

Finding&& Finding::with(std::string name, double value, Unit unit) && {
  return std::move(this->with(std::move(name), value, unit));
}

const Argument* Finding::argument(std::string_view name) const {
  const auto found = std::ranges::find(arguments, name, &Argument::name);
  return found == arguments.end() ? nullptr : &*found;
}

Finding input_error(std::string code, Place place) {
  Finding finding;
  finding.code = std::move(code);
  finding.place = std::move(place);
  return finding;
}

bool has_errors(const Findings& findings) {
  return std::ranges::any_of(findings,
                             [](const Finding& f) { return f.severity == Severity::error; });
}

void sort_findings(Findings& findings) {
  const auto place_key = [](const Finding& f) {
    return f.place ? std::make_tuple(f.place->file, f.place->line, f.place->column)
                   : std::make_tuple(std::string(), 0, 0);
  };
  const auto argument_key = [](const Finding& f) {
    std::vector<std::tuple<std::string, std::variant<std::string, double>>> key;
    for (const Argument& a : f.arguments) key.emplace_back(a.name, a.value);
    return key;
  };
  std::ranges::stable_sort(findings, [&](const Finding& a, const Finding& b) {
    if (a.severity != b.severity) return a.severity > b.severity;
    const auto pa = place_key(a);
    const auto pb = place_key(b);
    if (pa != pb) return pa < pb;
    if (a.code != b.code) return a.code < b.code;
    if (a.subjects != b.subjects) return a.subjects < b.subjects;
    return argument_key(a) < argument_key(b);
  });
}

}  // namespace ribbay
