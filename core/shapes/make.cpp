#include <algorithm>
#include <numeric>

#include "core/base/side_by_side.h"
#include "core/shapes/kinds/kinds.h"
#include "core/shapes/panel.h"
#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

/// Letters to add, drop or change to make one word the other (Levenshtein).
std::size_t lettersApart(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = std::exchange(row[j], std::min({row[j] + 1, row[j - 1] + 1, changed}));
    }
  }
  return row.back();
}

/// The word most like `typed`; the earlier of equals; empty if there is none.
std::string nearest(const std::string& typed, const std::vector<std::string>& words) {
  const auto best = std::min_element(words.begin(), words.end(), [&](const auto& a, const auto& b) {
    return lettersApart(typed, a) < lettersApart(typed, b);
  });
  return best == words.end() ? std::string() : *best;
}

template <class Items>
std::vector<std::string> namesOf(const Items& items) {
  std::vector<std::string> names;
  for (const auto& item : items) names.emplace_back(item.name);
  return names;
}

template <class Items>
auto byName(const Items& items, const std::string& name) {
  return std::find_if(items.begin(), items.end(), [&](const auto& item) { return item.name == name; });
}

base::Error notKnown(const std::string& key, const std::string& where, const Kind& kind,
                     const std::string& typed, const std::vector<std::string>& words) {
  // A kind without sizes or choices would have nothing to suggest; each has both or is never asked.
  return sizeError(where, key, {{"kind", kind.label}, {"typed", typed}, {"nearest", nearest(typed, words)}});
}

std::optional<base::Error> checkSizes(const Kind& kind, const yard::Prop& prop) {
  for (const auto& [name, stored] : prop.sizes) {
    const auto size = byName(kind.sizes, name);
    if (size == kind.sizes.end())
      return notKnown("shape_unknown_size", name, kind, name, namesOf(kind.sizes));
    if (stored >= size->least && stored <= size->most) continue;
    const bool small = stored < size->least;
    return sizeError(name, small ? "shape_size_too_small" : "shape_size_too_large",
                     {{"size", size->label},
                      {"value", sizeFact(*size, stored)},
                      {"limit", sizeFact(*size, small ? size->least : size->most)}});
  }
  return std::nullopt;
}

std::optional<base::Error> checkChoices(const Kind& kind, const yard::Prop& prop) {
  for (const auto& [name, option] : prop.choices) {
    const auto choice = byName(kind.choices, name);
    if (choice == kind.choices.end())
      return kind.choices.empty()
                 ? sizeError(name, "shape_no_choices", {{"kind", kind.label}, {"typed", name}})
                 : notKnown("shape_unknown_choice", name, kind, name, namesOf(kind.choices));
    if (byName(choice->options, option) == choice->options.end())
      return sizeError(name, "shape_unknown_option",
                       {{"choice", choice->label},
                        {"typed", option},
                        {"nearest", nearest(option, namesOf(choice->options))}});
  }
  return std::nullopt;
}

void fillUsual(const Kind& kind, yard::Prop& prop) {
  for (const SizeInfo& size : kind.sizes) prop.sizes.try_emplace(size.name, size.usual);
  for (const ChoiceInfo& choice : kind.choices)
    prop.choices.try_emplace(choice.name, choice.options.front().name);
}

/// A tenth of a millimetre is forgiven: the mount gives more than that.
constexpr std::int64_t kForgiven = 100'000;

void describePitch(Shape& shape, Length asked, Length hole, Length onMount) {
  shape.askedPitch = asked;
  const auto fact = shape.facts.find("true pitch");
  shape.truePitch = fact == shape.facts.end() ? onMount : std::get<Length>(fact->second);
  shape.facts["asked pitch"] = asked;
  if (std::abs(onMount.count - asked.count) > kForgiven)
    shape.warnings.push_back(
        {"shape_pitch_set_to_holes", {{"asked", asked}, {"hole", hole}, {"true", onMount}}});
}

}  // namespace

bool counts(const Needs& needs, const Kind& kind, const yard::Prop& prop) {
  if (needs.name.empty()) return true;
  if (needs.options.empty()) {
    const auto size = byName(kind.sizes, needs.name);
    const auto stored = prop.sizes.find(needs.name);
    return counts(size->needs, kind, prop) &&
           (stored == prop.sizes.end() ? size->usual : stored->second) > needs.over;
  }
  const auto choice = byName(kind.choices, needs.name);
  const auto stored = prop.choices.find(needs.name);
  const std::string option = stored == prop.choices.end() ? choice->options.front().name : stored->second;
  return counts(choice->needs, kind, prop) &&
         std::find(needs.options.begin(), needs.options.end(), option) != needs.options.end();
}

std::string needsText(const Needs& needs, const Kind& kind) {
  if (needs.name.empty()) return {};
  if (needs.options.empty())
    return base::text(base::Message{"shape_counts_over",
                                    {{"size", byName(kind.sizes, needs.name)->label}, {"over", needs.over}}});
  const auto choice = byName(kind.choices, needs.name);
  std::string options;
  for (const yard::ChoiceWord& option : choice->options)
    if (std::find(needs.options.begin(), needs.options.end(), option.name) != needs.options.end())
      options += (options.empty() ? "" : " / ") + std::string(option.label);
  return base::text(base::Message{"shape_counts_with", {{"choice", choice->label}, {"options", options}}});
}

Length holeSpacing(const yard::Prop& complete) {
  if (complete.choices.count("backing")) return base::toLength({meshSpacing(complete)});
  const auto holes = complete.sizes.find("hole_spacing");
  return holes == complete.sizes.end() ? Length{0} : Length{holes->second};
}

Length onHoles(Length pitch, Length hole) {
  if (!hole) return pitch;
  const std::int64_t steps = (pitch.count + hole.count / 2) / hole.count;
  return hole * std::max<std::int64_t>(1, steps);
}

base::Result<Shape> make(const yard::Prop& prop) {
  const Kind* kind = findKind(prop.kind);
  if (!kind)
    return tl::unexpected(
        sizeError("kind", "shape_unknown_kind",
                  {{"typed", prop.kind}, {"nearest", nearest(prop.kind, namesOf(kinds()))}}));
  if (auto error = checkSizes(*kind, prop)) return tl::unexpected(*error);
  if (auto error = checkChoices(*kind, prop)) return tl::unexpected(*error);
  yard::Prop complete = prop;
  fillUsual(*kind, complete);
  const auto pitch = complete.sizes.find("pitch");
  if (pitch == complete.sizes.end()) return kind->make(complete);
  const Length asked{pitch->second}, hole = holeSpacing(complete), onMount = onHoles(asked, hole);
  pitch->second = onMount.count;
  auto shape = kind->make(complete);
  if (shape) describePitch(*shape, asked, hole, onMount);
  return shape;
}

std::vector<base::Result<Shape>> makeAll(const std::vector<const yard::Prop*>& props) {
  constexpr std::size_t kWorthThreads = 16;  // a thread starts in the time of a few props
  std::vector<base::Result<Shape>> all(props.size());
  base::sideBySide(props.size(), props.size() >= kWorthThreads,
                   [&](std::size_t i) { all[i] = make(*props[i]); });
  return all;
}

std::optional<base::Error> unbuildable(const Shape& shape) {
  for (const base::Message& warning : shape.warnings)
    if (warning.key == "shape_topper_too_small")
      return base::Error{base::ErrorCode::BadInput, warning, "top_diameter"};
  return std::nullopt;
}

yard::Prop usualProp(const std::string& kind) {
  yard::Prop prop;
  prop.kind = kind;
  if (const Kind* found = findKind(kind)) {
    prop.name = found->label;
    prop.path = found->usualPath;
    prop.lines = found->usualLines;
    fillUsual(*found, prop);
  }
  return prop;
}

}  // namespace yw::shapes
