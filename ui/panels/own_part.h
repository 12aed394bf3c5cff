#pragma once
#include "ui/panels/form_part.h"

namespace yw::ui {

/// What an own shape is made of: bring in a drawing, change the order of its string.
class OwnPart : public FormPart {
  Q_OBJECT
 public:
  OwnPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override {}
};

}  // namespace yw::ui
