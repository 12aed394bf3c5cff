#pragma once
#include "ui/panels/measured.h"
#include "ui/panels/rows_part.h"

namespace yw::ui {

/// Values measured on a run or on a supply: written down, put right and taken out again.
class MeasuredPart : public RowsPart {
  Q_OBJECT
 public:
  MeasuredPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  bool comesLast() const override { return true; }

 protected:
  std::vector<Cells> cells() const override;
  QString change(int row, int column, const FieldEdit& edit) override;
  void add() override;
  void remove(int row) override;

 private:
  std::vector<MeasuredOnRun> values() const;
};

}  // namespace yw::ui
