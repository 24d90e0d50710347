#pragma once

#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <vector>

/// What drawings and pages for the shop say of themselves: headings, notes, units, the words around
/// sizes. (What checks find has a table of its own, messages.hpp; titles of parts and stock are
/// data.)
namespace ribbay {

/// One text of the table, with places to fill: "Mark {mark}, {module}".
struct Wording {
  std::string_view key;
  std::string_view text;
};

/// The English table, sorted by key. Every key that the program says stands here (a test looks).
const std::vector<Wording>& english_words();

/// What to put into a place of a text.
struct Filling {
  std::string_view place;
  std::string value;
};

/// The text of a key in the language that is spoken, its places filled; a key that no table has is
/// said as it is.
std::string say(std::string_view key, std::initializer_list<Filling> fillings = {});

/// Texts by key. What a language lacks is said in English.
using Language = std::map<std::string, std::string, std::less<>>;

/// From now on `say` speaks this language; an empty one is English. Call it before the first page
/// is drawn: it must not run beside `say`.
void speak(Language language);

/// Names of the places of a text, sorted, each once: those that a translation may use.
std::vector<std::string> places_of(std::string_view text);

}  // namespace ribbay
