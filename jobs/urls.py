"""Addresses of jobs and customers."""

from django.urls import path, register_converter

from jobs.models import Stage
from jobs.views import (
    bench,
    customers,
    intake,
    job,
    money,
    options,
    papers,
    past,
    photos,
    quotes,
    shop,
    stages,
    stock,
    timing,
)
from jobs.views.after import lists, one
from jobs.views.enquiries import lists as asked
from jobs.views.enquiries import one as enquiry
from jobs.views.holder_orders import lists as holder_orders
from jobs.views.holder_orders import one as holder_order
from jobs.views.window import entries as window_entries
from jobs.views.window import holders as window_holders
from jobs.views.window import site as window_site
from parts.urls import KindConverter


class NumberConverter:
    """A job number, such as 26-014."""

    regex = r"\d{2}-\d{3,9}"

    def to_python(self, value):
        return value

    def to_url(self, value):
        return value


class StageConverter(NumberConverter):
    """A stage's word."""

    regex = "|".join(Stage.Kind.values)


register_converter(KindConverter, "part-kind")
register_converter(NumberConverter, "number")
register_converter(StageConverter, "stage")

app_name = "jobs"

urlpatterns = [
    path("", bench.home, name="bench"),
    path("search/", bench.search, name="search"),
    path("jobs/", bench.all_jobs, name="jobs"),
    path("jobs/log/", intake.log, name="log"),
    path("jobs/log/draft/", intake.draft, name="draft"),
    path("jobs/log/draft/drop/", intake.drop_draft, name="draft-drop"),
    path("jobs/log/likely/<slug:what>/", intake.likely, name="likely"),
    path("enquiries/", asked.enquiries, name="enquiries"),
    path("enquiries/new/", asked.new, name="enquiry-new"),
    path("enquiries/<int:pk>/", enquiry.enquiry, name="enquiry"),
    path("enquiries/<int:pk>/close/", enquiry.close, name="enquiry-close"),
    path("enquiries/<int:pk>/sheet/", enquiry.sheet, name="enquiry-sheet"),
    path("holder-orders/", holder_orders.orders, name="holder-orders"),
    path("holder-orders/new/", holder_orders.new, name="holder-order-new"),
    path("holder-orders/prices/", holder_orders.prices, name="holder-prices"),
    path("holder-orders/<int:pk>/", holder_order.order, name="holder-order"),
    path("holder-orders/<int:pk>/edit/", holder_order.edit, name="holder-order-edit"),
    path("holder-orders/<int:pk>/step/", holder_order.step, name="holder-order-step"),
    path("holder-orders/<int:pk>/address/", holder_order.address, name="holder-order-address"),
    path("holder-orders/<int:pk>/measure/", holder_order.measure, name="holder-order-measure"),
    path("holder-orders/<int:pk>/feedback/", holder_order.feedback, name="holder-order-feedback"),
    path("holder-orders/<int:order>/payments/add/", money.pay, name="holder-order-payment-add"),
    path(
        "holder-orders/<int:order>/payments/<int:pk>/undo/", money.undo_order_payment, name="holder-order-payment-undo"
    ),
    path("holder-orders/<int:order>/invoices/add/", money.make_invoice, name="holder-order-invoice-add"),
    path("holder-orders/<int:order>/invoices/<int:pk>/", money.invoice, name="holder-order-invoice"),
    path("holder-orders/<int:order>/invoices/<int:pk>/credit/", money.credit_order, name="holder-order-invoice-credit"),
    path("holder-orders/<int:order>/papers/kept/<int:pk>/", papers.saved, name="holder-order-saved-paper"),
    path("holder-orders/<int:pk>/<slug:kind>/", holder_order.paper, name="holder-order-paper"),
    path("customers/", customers.customers, name="customers"),
    path("customers/<int:pk>/", customers.customer, name="customer"),
    path("customers/<int:pk>/edit/", customers.edit, name="customer-edit"),
    path("customers/<int:pk>/give-out/", customers.give_out, name="customer-export"),
    path("customers/<int:pk>/erase/", customers.erase_customer, name="customer-erase"),
    path("customers/<int:pk>/put-away/", customers.archive, name="customer-put-away"),
    path("jobs/<number:number>/logged/", intake.logged, name="logged"),
    path("jobs/<number:number>/", job.job, name="job"),
    path("jobs/<number:number>/edit/", job.edit, name="edit"),
    path("jobs/<number:number>/go-ahead/", job.give_go_ahead, name="go-ahead"),
    path("jobs/<number:number>/luminous/", job.clear_luminous, name="luminous"),
    path("jobs/<number:number>/take-back/<slug:what>/<int:pk>/", job.undo, name="take-back"),
    path("jobs/<number:number>/state/", job.change_state, name="state"),
    path("jobs/<number:number>/reports/<int:pk>/", options.saved_report, name="saved-report"),
    path("jobs/<number:number>/history/", job.history, name="history"),
    path("jobs/<number:number>/options/", options.add, name="option-add"),
    path("jobs/<number:number>/options/new/", options.begin, name="option-new"),
    path("jobs/<number:number>/options/<int:pk>/", options.change, name="option"),
    path("jobs/<number:number>/options/<int:pk>/measured/", options.measured_now, name="measured-now"),
    path("jobs/<number:number>/photos/", photos.add, name="photo-add"),
    path("jobs/<number:number>/photos/<int:pk>/", photos.show, name="photo"),
    path("jobs/<number:number>/photos/<int:pk>/small/", photos.show, {"small": True}, name="thumbnail"),
    path("jobs/<number:number>/photos/<int:pk>/view/", photos.page, name="photo-page"),
    path("jobs/<number:number>/photos/<int:pk>/original/", photos.original, name="photo-original"),
    path("jobs/<number:number>/photos/<int:pk>/caption/", photos.caption, name="photo-caption"),
    path("jobs/<number:number>/photos/<int:pk>/move/", photos.move, name="photo-move"),
    path("jobs/<number:number>/photos/<int:pk>/cover/", photos.cover, name="photo-cover"),
    path("jobs/<number:number>/photos/<int:pk>/pair/", photos.pair, name="photo-pair"),
    path("jobs/<number:number>/photos/<int:pk>/marks/", photos.mark, name="photo-mark"),
    path("jobs/<number:number>/photos/<int:pk>/put-away/", photos.archive, name="photo-put-away"),
    path("shop/", shop.shop, name="shop"),
    path("shop/words/<slug:language>/", shop.words, name="shop-words"),
    path("shop/rules/", shop.rules, name="rules"),
    path("shop/rules/learned/", shop.learned, name="rules-learned"),
    path("stock/<part-kind:kind>/<int:pk>/", stock.count, name="stock-count"),
    path("jobs/<number:number>/stock/take/", stock.take, name="stock-take"),
    path("jobs/<number:number>/stock/<part-kind:kind>/<int:pk>/", stock.put_aside, name="stock-aside"),
    path("jobs/<number:number>/stock/<int:pk>/", stock.settle, name="stock-settle"),
    path("orders/", shop.orders, name="orders"),
    path("jobs/<number:number>/orders/add/", quotes.order, name="order-add"),
    path("jobs/<number:number>/orders/<int:pk>/", quotes.order, name="order"),
    path("jobs/<number:number>/quotes/", quotes.draft, name="quote-draft"),
    path("jobs/<number:number>/quotes/<int:version>/", quotes.quote, name="quote"),
    path("jobs/<number:number>/quotes/<int:version>/sums/", quotes.sums, name="quote-sums"),
    path("jobs/<number:number>/quotes/<int:version>/send/", quotes.send, name="quote-send"),
    path("jobs/<number:number>/quotes/<int:version>/next/", quotes.next_version, name="quote-next"),
    path("jobs/<number:number>/quotes/<int:version>/answer/", quotes.answer, name="quote-answer"),
    path("jobs/<number:number>/payments/add/", money.pay, name="payment-add"),
    path("jobs/<number:number>/payments/<int:pk>/undo/", money.undo_payment, name="payment-undo"),
    path("jobs/<number:number>/invoices/add/", money.make_invoice, name="invoice-add"),
    path("jobs/<number:number>/invoices/<int:pk>/", money.invoice, name="invoice"),
    path("jobs/<number:number>/invoices/<int:pk>/credit/", money.credit, name="invoice-credit"),
    path("jobs/<number:number>/papers/", papers.papers, name="papers"),
    path("jobs/<number:number>/papers/<slug:kind>/", papers.make, name="paper"),
    path("jobs/<number:number>/papers/kept/<int:pk>/", papers.saved, name="saved-paper"),
    path("fit-check-<int:pk>.pdf", papers.fit_check, name="fit-check-paper"),
    path("measuring-sheet.pdf", papers.measuring_sheet, name="measuring-sheet"),
    path("after/", lists.after, name="after"),
    path("after/dialside.ics", lists.calendar_file, name="calendar-file"),
    path("jobs/<number:number>/after/", lists.job_after, name="job-after"),
    path("jobs/<number:number>/after/<slug:key>/", one.follow_up, name="follow-up"),
    path("jobs/<number:number>/after/<slug:key>/letter/", one.letter, name="letter"),
    path("jobs/<number:number>/after/<int:pk>/undo/", one.undo, name="follow-up-undo"),
    path("window/", window_entries.window, name="window"),
    path("window/holders/<int:design>/", window_holders.holder, name="window-holder"),
    path("window/holders/<int:design>/state/", window_holders.holder_state, name="window-holder-state"),
    path("window/about/", window_site.about, name="window-about"),
    path("window/write/", window_site.writing, name="window-write"),
    path("window/clear/", window_site.clear, name="window-clear"),
    path("window/show-window.zip", window_site.download, name="window-zip"),
    path("window/site/", window_site.preview, name="window-preview-home"),
    path("window/site/<path:path>", window_site.preview, name="window-preview"),
    path("jobs/<number:number>/window/", window_entries.entry, name="window-entry"),
    path("jobs/<number:number>/window/state/", window_entries.entry_state, name="window-entry-state"),
    path("past/", past.past, name="past"),
    path("past/near/", past.near, name="past-near"),
    path("past/numbers/", past.figures, name="figures"),
    path("past/numbers/<slug:table>.csv", past.table_file, name="figures-file"),
    path("jobs/<number:number>/outcome/", past.outcome, name="outcome"),
    path("jobs/<number:number>/learn/", past.learn, name="learn"),
    path("clock/", timing.clock, name="clock"),
    path("jobs/<number:number>/runs/", timing.runs, name="runs"),
    path("jobs/<number:number>/runs/<int:pk>/", timing.run, name="run"),
    path("jobs/<number:number>/runs/<int:pk>/change/", timing.change_run, name="run-change"),
    path("jobs/<number:number>/runs/<int:pk>/put-away/", timing.archive_run, name="run-put-away"),
    path("jobs/<number:number>/runs/<int:pk>/tap/", timing.tap, name="tap"),
    path("jobs/<number:number>/runs/<int:pk>/type/", timing.type_in, name="type-in"),
    path("jobs/<number:number>/runs/<int:pk>/readings/<int:reading>/", timing.undo_reading, name="reading-take-back"),
    path("jobs/<number:number>/<stage:kind>/", stages.stage, name="stage"),
    path("jobs/<number:number>/<stage:kind>/tick/", stages.tick, name="tick"),
    path("jobs/<number:number>/<stage:kind>/tick-all/", stages.tick_all, name="tick-all"),
    path("jobs/<number:number>/<stage:kind>/close/", stages.close, name="stage-close"),
    path("jobs/<number:number>/<stage:kind>/skip/", stages.skip, name="stage-skip"),
    path("jobs/<number:number>/<stage:kind>/open-again/", stages.open_again, name="stage-open"),
    path("jobs/<number:number>/<stage:kind>/measurements/", stages.measurements, name="measurements"),
    path("jobs/<number:number>/<stage:kind>/remarks/", stages.remarks, name="remarks"),
    path("jobs/<number:number>/<stage:kind>/time/", stages.time_spent, name="time"),
    path("jobs/<number:number>/<stage:kind>/time/<int:pk>/", stages.leave_out_time, name="time-leave-out"),
]
