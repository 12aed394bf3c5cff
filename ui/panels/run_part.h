#pragma once
#include "ui/panels/rows_part.h"

namespace yw::ui {

class ReferenceField;

/// What a run strings together, in the order the data goes: order, direction, null pixels, boosters, pixels
/// left unused, a cut into two runs, and the wire of each lead.
class RunItemsPart : public RowsPart {
  Q_OBJECT
 public:
  RunItemsPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;

 private:
  using Items = std::vector<yard::RunItem>;
  void changeItems(const QString& step, const std::function<void(Items&)>& change, int currentAfter);
  void move(int by);
  void insert(yard::RunItemKind kind);
  void addProp(base::Id prop);
  void cutHere();
  void setLeadWire(base::Id wire);
  void showLead();
  QPushButton* button(const char* name, const QString& text, const std::function<void()>& act);
  ReferenceField* addProp_;
  ReferenceField* leadWire_;
  std::vector<QPushButton*> needRow_;
};

/// Shown name of an item: `Tree 1, pixels 1 to 192`, `null pixel`.
QString runItemText(const yard::Yard& yard, const yard::RunItem& item);

}  // namespace yw::ui
