"""Who may open which address, written out by hand: the table of the program is held against it, not read from it.

A new address goes in here too, by a decision of its own: who may look, and who may send something.
"""

BY_ROLES = {
    ("NOBODY", "NOBODY"): """
        calendar-feed choose-password first-start health second-step sign-in
    """,
    ("READER", "READER"): """
        account account-device code-app code-app-remove passkey-add passkey-remove recovery-codes second-steps
        parts:draft-numbers parts:numbers parts:pairing-tried password sign-out
        parts:pairing-chance parts:pairing-new-chance
    """,
    ("READER", "BENCH"): """
        jobs:rules-learned jobs:enquiries jobs:enquiry jobs:enquiry-close jobs:enquiry-sheet
        jobs:holder-orders jobs:holder-order jobs:holder-order-step jobs:holder-order-measure jobs:holder-order-address
        jobs:holder-order-feedback jobs:holder-order-paper jobs:holder-order-saved-paper
        jobs:after jobs:calendar-file jobs:job-after jobs:follow-up jobs:follow-up-undo
        jobs:bench jobs:clock jobs:customer jobs:customer-put-away jobs:customers jobs:figures jobs:figures-file
        jobs:history jobs:job jobs:jobs jobs:saved-report jobs:learn jobs:logged jobs:measurements jobs:option
        jobs:measured-now
        jobs:option-add jobs:option-new jobs:order jobs:orders jobs:paper jobs:saved-paper jobs:papers jobs:past
        jobs:past-near jobs:photo jobs:photo-add jobs:photo-caption jobs:photo-cover jobs:photo-mark jobs:photo-move
        jobs:photo-original jobs:photo-page jobs:photo-pair jobs:photo-put-away jobs:reading-take-back
        jobs:remarks jobs:rules
        jobs:run jobs:run-put-away jobs:runs jobs:search jobs:stage jobs:stage-close jobs:stage-open jobs:stage-skip
        jobs:state jobs:stock-aside jobs:stock-count jobs:stock-settle jobs:stock-take jobs:take-back jobs:tap
        jobs:thumbnail jobs:tick jobs:tick-all jobs:time
        jobs:time-leave-out jobs:type-in parts:bring-back parts:copy parts:detail parts:export
        parts:goes-in parts:goes-in-movements parts:goes-in-pictures parts:goes-in-plan
        parts:goes-in-table parts:holder
        parts:holder-file parts:holder-mesh parts:holder-photo parts:holder-photo-add parts:holder-photo-put-away
        parts:holder-photo-small parts:holder-print-put-away parts:holder-prints parts:holder-put-away
        parts:holder-result parts:holders parts:index parts:list parts:note-put-away parts:pairing
        parts:pairing-compare jobs:fit-check-paper parts:look
        parts:pairing-look parts:pairing-look-picture
        parts:pairing-put-away parts:pairing-sheet parts:pairings
        parts:how-to-measure parts:card jobs:measuring-sheet
        parts:mats parts:mat-paper parts:mat-bars parts:mat-put-away parts:part-pictures parts:picture
        parts:scanner parts:scanner-put-away parts:coupon-measured parts:coupon-stl parts:coupon-3mf
        parts:picture-read parts:picture-flat parts:picture-whole
        parts:picture-pick parts:picture-use parts:picture-put-away
        parts:measured parts:pick parts:put-away parts:template parts:instruments parts:instrument-put-away
    """,
    ("BENCH", "BENCH"): """
        jobs:customer-edit jobs:draft jobs:draft-drop jobs:edit jobs:go-ahead jobs:likely jobs:log jobs:luminous
        jobs:letter jobs:enquiry-new jobs:holder-order-new jobs:holder-order-edit
        jobs:order-add jobs:outcome jobs:run-change parts:add parts:edit parts:measured-here parts:holder-new
        parts:import parts:import-check parts:look parts:look-again parts:note parts:note-add parts:pairing-new
        parts:pairing-upload parts:draft parts:examples parts:quick
        parts:quick-chance parts:quick-discard parts:quick-keep parts:quick-new
    """,
    ("OWNER", "OWNER"): """
        calendar export jobs:customer-erase jobs:customer-export
        jobs:invoice jobs:invoice-add jobs:invoice-credit jobs:payment-add jobs:payment-undo
        jobs:holder-order-invoice jobs:holder-order-invoice-add jobs:holder-order-invoice-credit
        jobs:holder-order-payment-add jobs:holder-order-payment-undo
        jobs:quote jobs:quote-answer jobs:quote-draft
        jobs:quote-next jobs:quote-sums jobs:quote-send jobs:shop jobs:shop-words jobs:holder-prices
        jobs:window jobs:window-about jobs:window-clear jobs:window-entry jobs:window-entry-state
        jobs:window-holder jobs:window-holder-state jobs:window-preview
        jobs:window-preview-home jobs:window-write jobs:window-zip
        people person person-away person-link person-out
        person-steps access-log
    """,
}
DOORS = {name: roles for roles, names in BY_ROLES.items() for name in names.split()} | {
    "admin:index": ("OWNER", "OWNER")
}
