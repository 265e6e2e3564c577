"""The operator's desk: findings on a folder of PDFs, each beside independent renderings of its place, on one page to judge them.

python -m tests.outside.desk FOLDER -o OUT [--spec ID] [--judged judged.csv]
python -m tests.outside.desk.making FOLDER      # print-like files as seven programs write them
"""
