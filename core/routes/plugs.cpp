#include "core/routes/plugs.h"

#include <algorithm>

namespace yw::routes {

namespace {

using yard::PlugEnd;
using yard::TerminalKind;

/// Words alike but for case and spaces at the ends.
std::string plain(const std::string& text) {
  std::string out;
  for (const char c : text)
    if (c != ' ' || !out.empty()) out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

PlugEnd other(PlugEnd end) { return end == PlugEnd::Male ? PlugEnd::Female : PlugEnd::Male; }

std::string plugOfPort(const yard::Yard& yard, Id port) {
  const auto* p = yard::find<yard::Port>(yard, port);
  if (p == nullptr) return {};
  if (const auto* c = yard::find<yard::Controller>(yard, p->owner)) return c->plug;
  const auto* r = yard::find<yard::Receiver>(yard, p->owner);
  return r == nullptr ? std::string() : r->plug;
}

}  // namespace

Socket socketOf(const yard::Yard& yard, const yard::Terminal& terminal) {
  if (terminal.kind == TerminalKind::Port) return {plugOfPort(yard, terminal.record), PlugEnd::Female};
  const bool in = terminal.kind == TerminalKind::PropIn;
  if (!in && terminal.kind != TerminalKind::PropOut) return {};
  const auto* prop = yard::find<yard::Prop>(yard, terminal.record);
  const auto* product = prop == nullptr ? nullptr : yard::productOf(yard, *prop);
  if (product == nullptr) return {};
  return {product->plug, in ? product->inEnd : other(product->inEnd)};
}

bool mates(const std::string& nearPlug, PlugEnd nearEnd, const std::string& farPlug, PlugEnd farEnd) {
  const std::string a = plain(nearPlug), b = plain(farPlug);
  return a.empty() || b.empty() || (a == b && nearEnd != farEnd);
}

std::int64_t adaptersBetween(const Socket& from, const std::string& plug, const Socket& to) {
  return static_cast<std::int64_t>(!mates(from.plug, from.end, plug, PlugEnd::Male)) +
         static_cast<std::int64_t>(!mates(plug, PlugEnd::Female, to.plug, to.end));
}

std::vector<Adapter> adaptersOf(const yard::Yard& yard, const Routes& routes) {
  std::vector<Adapter> out;
  for (const auto& [key, cable] : routes.cables) {
    if (key.role != CableRole::Lead && key.role != CableRole::Jumper) continue;
    const auto* wire = yard::find<yard::Wire>(yard, cable.wire);
    if (wire == nullptr || wire->plug.empty()) continue;
    const Socket from = socketOf(yard, cable.from), to = socketOf(yard, cable.to);
    if (!mates(from.plug, from.end, wire->plug, PlugEnd::Male))
      out.push_back({key, false, from.plug, wire->plug, other(from.end), PlugEnd::Female});
    if (!mates(wire->plug, PlugEnd::Female, to.plug, to.end))
      out.push_back({key, true, wire->plug, to.plug, PlugEnd::Male, other(to.end)});
  }
  return out;
}

}  // namespace yw::routes
