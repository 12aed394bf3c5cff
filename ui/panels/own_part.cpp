#include "ui/panels/own_part.h"

#include <QPushButton>

#include "ui/dialogs/own_dialogs.h"
#include "ui/fields/flow_layout.h"

namespace yw::ui {

OwnPart::OwnPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* flow = new FlowLayout;
  setLayout(flow);
  const auto button = [&](const QString& text, const char* name) {
    auto* made = new QPushButton(text, this);
    made->setObjectName(QLatin1String(name));
    made->setMinimumHeight(26);
    flow->addWidget(made);
    return made;
  };
  connect(button(tr("Bring in a drawing…"), "own_import"), &QPushButton::clicked, this,
          [this] { ImportDialog(this->document(), id(), window()).exec(); });
  connect(button(tr("Order of the string…"), "own_order"), &QPushButton::clicked, this,
          [this] { OrderDialog(this->document(), id(), window()).exec(); });
}

}  // namespace yw::ui
