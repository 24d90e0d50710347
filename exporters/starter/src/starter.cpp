#include "starter/starter.hpp"

#include "texts.hpp"

#include <algorithm>
#include <map>

namespace ribbay {

using namespace detail;

namespace {

/// Marks of the template: `<<name>>`, or `<<MILLIMETRES|INCHES>>`, of which the unit picks one.
std::string filled(std::string_view page, const std::map<std::string, std::string>& words,
                   bool inches) {
  std::string text;
  while (true) {
    const std::size_t open = page.find("<<");
    text += page.substr(0, open);
    if (open == std::string_view::npos) return text;
    const std::size_t close = page.find(">>", open);
    const std::string mark(page.substr(open + 2, close - open - 2));
    const std::size_t stroke = mark.find('|');
    text += stroke == std::string::npos ? words.at(mark)
            : inches                    ? mark.substr(stroke + 1)
                                        : mark.substr(0, stroke);
    page.remove_prefix(close + 2);
  }
}

/// "field_van" gives "Field van".
std::string title_of(std::string name) {
  std::ranges::replace(name, '_', ' ');
  name.front() -= 'a' - 'A';
  return name;
}

OutputFile sample_file(const std::string& from, const std::string& to, const std::string& what) {
  return {to, std::string(starter_text(from)), what};
}

}  // namespace

const std::vector<std::string>& sample_vehicles() {
  static const std::vector<std::string> names = {"short_low", "long_mid", "long_high"};
  return names;
}

std::string sample_vehicle(const std::string& name) {
  return std::string(starter_text("vehicles/" + name + ".toml"));
}

OutputFiles starter_project(const StarterOptions& options) {
  const bool inches = options.unit == LengthStyle::inches;
  const std::map<std::string, std::string> words = {
      {"name", options.name}, {"title", title_of(options.name)}, {"vehicle", options.vehicle}};
  OutputFiles files = {
      {options.name + ".toml", filled(starter_text("new/project.toml"), words, inches), "project"},
      sample_file("vehicles/" + options.vehicle + ".toml", options.vehicle + ".toml", "vehicle"),
      sample_file("equipment/equipment.toml", "equipment.toml", "equipment")};
  for (const char* stock : {"materials", "aluminium", "sheets", "hardware"}) {
    const std::string file = "stock/" + std::string(stock) + ".toml";
    files.push_back(sample_file(file, file, "stock"));
  }
  return files;
}

}  // namespace ribbay
