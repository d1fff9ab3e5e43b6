"""The database: tables, transactions, the diary, migrations."""
