#include "core/yard/yard.h"

namespace yw::yard {

Yard emptyYard() {
  Yard yard;
  const auto add = [&yard](Record record) {
    const Id id{yard.nextId++};
    yard.records.emplace(id, std::make_shared<const Record>(std::move(record)));
    return id;
  };
  add(Settings{});
  add(Site{});
  return yard;
}

}  // namespace yw::yard
