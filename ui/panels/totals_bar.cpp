#include "ui/panels/totals_bar.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>

#include "core/base/number_text.h"
#include "core/edit/ideas.h"

namespace yw::ui {

TotalsBar::TotalsBar(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(10, 2, 6, 2);
  line_ = new QLabel(this);
  line_->setObjectName(QStringLiteral("runningTotals"));
  line_->setAccessibleName(tr("Running totals"));
  line_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  line_->setMinimumWidth(50);
  line_->setWordWrap(true);  // a figure is never cut off
  parts_ = new QPushButton(tr("Parts"), this);
  parts_->setObjectName(QStringLiteral("partsButton"));
  parts_->setToolTip(tr("Parts counts and every other table"));
  row->addWidget(line_, 1);
  row->addWidget(parts_);
  connect(parts_, &QPushButton::clicked, this, &TotalsBar::partsAsked);
  connect(&document, &Document::assessed, this, [this] { show(); });
  connect(&document, &Document::staleChanged, this, [this] { show(); });
  show();
}

QString TotalsBar::text() const { return line_->text(); }

void TotalsBar::show() {
  const auto a = document_.assessment();
  if (!a) return;
  const auto number = [](double value, int decimals) {
    return QString::fromStdString(base::numberText(value, decimals));
  };
  double limit = 0.0, full = 0.0, length = base::metres(a->totals.leadLength).si;
  int used = 0;
  for (const auto& [id, figure] : a->limit.supplies) {
    limit += figure.amps;
    used += figure.amps > 0 ? 1 : 0;
  }
  for (const auto& [id, figure] : a->fullWhite.supplies) full += figure.amps;
  const yard::Settings& settings = yard::settings(a->yard);
  const bool metric = settings.units == base::UnitSystem::Metric;
  QStringList parts;
  const QString pixels = number(static_cast<double>(a->totals.pixels), 0);
  std::int64_t loose = 0;
  for (const auto& [id, count] : a->unwired) loose += count;
  parts << (loose > 0 ? tr("%1 pixels, %2 not wired").arg(pixels, number(static_cast<double>(loose), 0))
                      : tr("%1 pixels").arg(pixels));
  parts
      << tr("%1 A at %2 %").arg(number(limit, 1), number(base::fraction(settings.brightnessLimit) * 100, 0));
  parts << tr("%1 A at full white").arg(number(full, 1));
  parts << tr("%1 of %2 supplies used").arg(used).arg(a->totals.supplies);
  parts << tr("%1 of %2 ports free").arg(a->totals.portsFree).arg(a->totals.ports);
  parts << (metric ? tr("%1 m of wire").arg(number(length, 0))
                   : tr("%1 ft of wire").arg(number(length / 0.3048, 0)));
  const double cost = static_cast<double>(a->totals.cost.count) * 1e-4;
  if (a->totals.cost.count > 0)
    parts << QString::fromStdString(settings.currency) + number(cost, 2) +
                 (a->totals.costComplete ? QString() : tr(" and what has no price yet"));
  if (const auto* idea = yard::find<yard::Idea>(a->yard, edit::shownIdea(a->yard)))
    parts.prepend(tr("Idea: %1").arg(QString::fromStdString(idea->name)));
  QString text = parts.join(QStringLiteral(" · "));
  if (document_.stale()) text = tr("Computing…   ") + text;
  line_->setText(text);
  line_->setToolTip(text);
}

}  // namespace yw::ui
